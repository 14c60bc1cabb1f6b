"""Sliders and boxes around the pictures: ipywidgets only, no geometry."""

from .box_panel import box_panel
from .corner_panel import corner_panel
from .exercise_panel import exercise_panel
from .gauge_map_panel import gauge_map_panel
from .handout_panel import handout_panel
from .joint_panel import joint_panel
from .one_gauge_panel import one_gauge_panel
from .projector import for_projector
from .setting_errors_panel import setting_errors_panel
from .test_corner_panel import symptom_panel, test_corner_panel
from .write_up_panel import write_up_panel

__all__ = ["box_panel", "corner_panel", "exercise_panel", "for_projector", "gauge_map_panel", "handout_panel",
           "joint_panel", "one_gauge_panel", "setting_errors_panel", "symptom_panel", "test_corner_panel", "write_up_panel"]
