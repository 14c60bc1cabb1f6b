"""Leaning corners: the end lines, bevels and level lines of boards that lean, derived and computed.

>>> import splaywork as sw
>>> corner = sw.Corner(tail_lean=30, pin_lean=30)
>>> round(corner.dihedral, 3)
104.478

`dir(splaywork)` lists the public names. Each is loaded from its subject when it is first asked for, so that neither
matplotlib nor ipywidgets is loaded before a picture or a panel is.
"""

from importlib import import_module

__version__ = "1.0.0"

# The front door, by subject: where each public name lives.
_DOOR = {
    "common.printing": ("degrees", "length", "mm", "offset"),
    "common.citation": ("cite", "sources_table"),
    "formulas.forms": ("closed_forms", "sensitivities"),
    "formulas.table": ("table",),
    "formulas.write_up": ("write_up",),
    "corner.corner": ("Corner",),
    "corner.projection": ("Projection",),
    "corner.projection_stills": ("projection_moving_still", "projection_still"),
    "corner.dry_fit": ("dry_fit_table",),
    "corner.words": ("corner_words", "say_end_line_settings", "say_settings", "settings_table", "uses_table"),
    "corner.wedge_template_sheet": ("save_wedge_template",),
    "corner.stills": ("corner_still", "lean_dragged_still", "tail_end_still", "words_still"),
    "corner.vectors_picture": ("vectors_still",),
    "corner.derivation_pictures": ("sphere_still", "square_end_and_baseline_still"),
    "corner.panel": ("corner_panel",),
    "corner.projection_panel": ("projection_panel",),
    "corner.write_up_panel": ("write_up_panel",),
    "one_gauge.one_gauge": ("NAMED_CORNERS", "OneGauge", "good_enough"),
    "one_gauge.setting_errors": ("jitter",),
    "one_gauge.words": ("equal_leans_table", "four_cases_table", "good_enough_table", "named_corners_table", "say_both_up_to",
                        "say_closed", "say_degree_adds", "say_error", "say_go_round", "say_good_enough", "say_hold_leans",
                        "say_setting_errors", "say_winding", "shortcut_table"),
    "one_gauge.pictures": ("closing_corners_still", "one_gauge_still"),
    "one_gauge.map_picture": ("gauge_map_still",),
    "one_gauge.setting_errors_picture": ("setting_errors_still",),
    "one_gauge.panel": ("one_gauge_panel",),
    "one_gauge.map_panel": ("gauge_map_panel",),
    "one_gauge.setting_errors_panel": ("setting_errors_panel",),
    "trial.readings": ("TrialCorner", "lean_from_rise_and_run", "lean_from_slant_width"),
    "trial.faults": ("end_line_from_diagonals", "rim_bevel_from_gap"),
    "trial.words": ("faults_table", "measured_table", "offsets_table", "say_measured", "say_pulled_tight", "say_slipped",
                    "what_to_measure"),
    "trial.stills": ("readings_still",),
    "trial.panel": ("trial_corner_panel", "trial_faults_panel"),
    "joint.joint": ("Joint",),
    "joint.stl": ("save_stl",),
    "joint.stills": ("joint_still", "stages_still", "tail_still"),
    "joint.bench_steps_picture": ("bench_steps",),
    "joint.page_words": ("lettered_table", "level_cheeks_words", "marked_width_words", "mirrored_corner_words", "slopes_table",
                         "square_end_words", "tail_marks_table"),
    "joint.trial_sheet": ("gapes_table", "save_trial_sheet", "stock_table", "trial_table", "trial_tools_words"),
    "joint.trial_sheet_panel": ("trial_sheet_panel",),
    "joint.panel": ("joint_panel",),
    "box.box": ("Allowances", "Bottom", "Box", "JointSettings"),
    "box.fronts": ("show_front",),
    "box.opening": ("Clearances", "FrontChoice", "Opening"),
    "box.paper_model_still": ("paper_model_still",),
    "box.regular": ("RegularBox",),
    "box.runners": ("RunnerChoice", "runners"),
    "box.cut_list": ("cut_list",),
    "box.fittings": ("bottom_panel", "wedge_cauls"),
    "box.changes": ("what_changed",),
    "box.movement": ("movement",),
    "box.editor": ("PlanEditor",),
    "box.plan": ("Item", "Plan", "Stock", "load_plan", "save_plan"),
    "box.paper_model": ("PaperModel",),
    "box.opening_picture": ("opening_still",),
    "box.settings": ("job_settings",),
    "box.stock": ("stock_plan",),
    "box.set_sheets": ("save_bench_set",),
    "box.job_sheets": ("save_job_sheets",),
    "box.stock_sheets": ("save_stock_sheets",),
    "box.label_sheets": ("save_labels",),
    "box.bench_card_sheets": ("save_box_bench_card",),
    "box.panel": ("box_panel",),
    "drawing.export": ("save_figure",),
    "drawing.print_file": ("save_pages",),
    "teaching.scripts": ("script",),
    "teaching.script_panel": ("lesson_panel", "script_panel"),
    "teaching.tally_panel": ("tally_panel",),
    "teaching.class_corner_panel": ("class_corner_panel",),
    "teaching.class_papers_panel": ("class_papers_panel",),
    "teaching.class_report": ("class_report",),
    "teaching.class_report_picture": ("class_report_still",),
    "teaching.draw_on_sheets": ("draw_on", "save_draw_on"),
    "teaching.kit_sheets": ("kit", "save_kit"),
    "teaching.lesson_sheets": ("lesson_sheet", "save_lesson"),
    "teaching.wall_chart_sheet": ("save_wall_chart", "wall_chart"),
    "teaching.course_sheets": ("assessment", "course", "course_table", "save_assessment", "save_course"),
    "teaching.exercise_panel": ("exercise_panel",),
    "teaching.handout_panel": ("handout_panel",),
    "teaching.handout_sheets": ("save_sheets",),
}
_HOME = {name: module for module, names in _DOOR.items() for name in names}

__all__ = ["__version__", *_HOME]


def __getattr__(name):
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = getattr(import_module(f".{_HOME[name]}", __name__), name)
    globals()[name] = value
    return value


def __dir__():
    return sorted(__all__)
