"""A trial corner read back: its leans, and the cuts that made its gaps."""
