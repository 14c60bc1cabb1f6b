"""The panels under their old address, for one release: ask `splaywork` itself for them."""

import warnings

from ..box.panel import box_panel
from ..corner.panel import corner_panel
from ..corner.write_up_panel import write_up_panel
from ..joint.panel import joint_panel
from ..one_gauge.map_panel import gauge_map_panel
from ..one_gauge.panel import one_gauge_panel
from ..one_gauge.setting_errors_panel import setting_errors_panel
from ..teaching.exercise_panel import exercise_panel
from ..teaching.handout_panel import handout_panel
from ..trial.panel import trial_corner_panel
from ..trial.panel import trial_faults_panel as symptom_panel

__all__ = ["box_panel", "corner_panel", "exercise_panel", "gauge_map_panel", "handout_panel",
           "joint_panel", "one_gauge_panel", "setting_errors_panel", "symptom_panel", "trial_corner_panel", "write_up_panel"]

warnings.warn("splaywork.panels will go: every panel is at the front door, as in splaywork.corner_panel.", DeprecationWarning,
              stacklevel=2)
