"""The dovetail joint cut on a corner."""
