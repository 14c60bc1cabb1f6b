"""Exercises, handouts and cards for a class."""
