"""A notebook as a room sees it: large type, heavy lines, high contrast, and the code folded away."""

import ipywidgets as widgets

from ..drawing.canvas import FAR, Canvas

PAGE, CODE = "splaywork-projector", "splaywork-code-hidden"

# For the notebook that holds the switch, and no other on the page. What JupyterLab keeps round a notebook takes 130
# pixels of a window; a panel takes what is left, and its picture gives way before its words do; a list below them scrolls.
STYLE = f"""<style>
.jp-Notebook:has(.{PAGE}) {{
  --jp-content-font-size1: 19px; --jp-code-font-size: 17px; --jp-content-line-height: 1.45;
  --jp-content-font-color1: #000; --jp-ui-font-color1: #000; --jp-ui-font-color2: #333;
  --jp-widgets-font-size: 17px; --jp-widgets-label-color: #000; --jp-widgets-readout-color: #000;
  --jp-widgets-input-color: #000; --jp-widgets-inline-height: 32px;
}}
.jp-Notebook:has(.{PAGE}) .jp-OutputArea-output pre {{ font-size: 17px; color: #000; word-break: normal; }}
.jp-Notebook:has(.{PAGE}) .splaywork-panel .widget-html-content {{ font-size: 17px; line-height: 1.3; color: #000; }}
.jp-Notebook:has(.{PAGE}) .splaywork-panel :is(input, select, button) {{ font-size: 16px; }}
.jp-Notebook:has(.{PAGE}) .splaywork-panel .noUi-handle {{ border: 2px solid #000; }}
.jp-Notebook:has(.{PAGE}) .splaywork-panel:has(> .widget-image):not(:has(.jupyter-widget-Collapse-open)) {{
  max-height: calc(100vh - 130px); flex-wrap: nowrap; overflow: hidden auto;
}}
.jp-Notebook:has(.{PAGE}) .splaywork-panel > * {{ flex-shrink: 0; }}
.jp-Notebook:has(.{PAGE}) .splaywork-panel > .widget-image {{
  flex: 0 1 auto; min-height: 240px; width: min(100%, 1180px); object-fit: contain; object-position: left top;
}}
.jp-Notebook:has(.{CODE}) .jp-CodeCell > .jp-Cell-inputWrapper {{ display: none; }}
</style>"""

_shown = []  # the switch that stands on the page


def for_projector(on=True):
    """Turn the notebook that this is called in into one for a projector, or back again.

    on: True for large type, high contrast, code folded away (a button over the pictures unfolds it) and heavy lines in
    the panels and still pictures made afterwards: run it first, then their cells. False puts it all back.
    Returns the widget with the button, to be shown where the call stands; None when off.
    """
    Canvas.usual_pen = FAR if on else 1.0
    while _shown:
        _shown.pop().close()
    if not on:
        return None
    button = widgets.ToggleButton(value=False, description="Show the code", layout={"width": "auto"})
    page = widgets.VBox([button, widgets.HTML(STYLE, layout={"display": "none"})])
    page.add_class(PAGE)
    page.add_class(CODE)

    def turn(change):
        button.description = "Hide the code" if change.new else "Show the code"
        (page.remove_class if change.new else page.add_class)(CODE)

    button.observe(turn, "value")
    _shown.append(page)
    return page
