"""Sliders and boxes around the pictures: ipywidgets only, no geometry."""

from .corner_panel import corner_panel

__all__ = ["corner_panel"]
