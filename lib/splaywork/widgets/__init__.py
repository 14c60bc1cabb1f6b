"""The widget kit: dials, fields, files and access."""
