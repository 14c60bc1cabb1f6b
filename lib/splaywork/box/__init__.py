"""Four corners together: boxes, openings, cut lists, plans and sheets."""
