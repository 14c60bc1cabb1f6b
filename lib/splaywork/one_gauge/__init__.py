"""What the one-gauge shortcut, and a bevel set a little wrong, do to a corner."""
