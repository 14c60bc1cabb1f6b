"""The closed forms, derived from planes with sympy, and written up."""
