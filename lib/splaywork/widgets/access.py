"""What a screen reader and the keyboard need of a panel and ipywidgets leaves out, set by a script on the page.

In ipywidgets 8 a slider's handle has no name and its place is said with a float's last digits, the heading of a folded
part is passed over by the Tab key, buttons don't say that they are pressed, and a picture has no alternative text; none
of these can be set from Python. And JupyterLab takes arrow keys, Enter and letters on them for its own, unless told. An
Output widget carries the script, so that it runs wherever the panel is shown and leaves nothing in a notebook's file.
Where scripts from outputs don't run, the panel works as ipywidgets made it.
"""

import ipywidgets as widgets

SCRIPT = """
const start = () => {
  const holder = element.closest(".jupyter-widgets.widget-output");
  const root = holder && holder.parentElement;
  if (!root) { requestAnimationFrame(start); return; }  // not yet on the page
  const set = (node, name, value) => { if (node && node.getAttribute(name) !== value) node.setAttribute(name, value); };
  const each = (selector, act) => root.querySelectorAll(selector).forEach(act);
  const label = node => { const found = node && node.querySelector("label"); return found ? found.textContent : ""; };

  const name = () => {
    each(".noUi-handle", handle => {
      const slider = handle.closest(".widget-slider");
      set(handle, "aria-label", label(slider) || label(slider.parentElement.querySelector(":scope > .widget-text")));
      const place = String(Number(Number(handle.getAttribute("aria-valuetext")).toFixed(6)));
      set(handle, "aria-valuetext", place);
      if (slider.querySelector(".noUi-target").hasAttribute("disabled")) {
        set(handle, "aria-disabled", "true");
        set(handle, "tabindex", "-1");
      } else { handle.removeAttribute("aria-disabled"); set(handle, "tabindex", "0"); }
    });
    each(".jupyter-widget-Collapse-header", heading => {
      set(heading, "role", "button");
      set(heading, "tabindex", "0");
      const open = heading.parentElement.classList.contains("jupyter-widget-Collapse-open");
      set(heading, "aria-expanded", String(open));
      set(heading, "aria-label", heading.textContent);
    });
    each(".widget-toggle-button, .widget-toggle-buttons button", button =>
      set(button, "aria-pressed", String(button.classList.contains("mod-active"))));
    each(".widget-toggle-buttons, .widget-radio", group => {
      set(group, "role", group.matches(".widget-radio") ? "radiogroup" : "group");
      if (label(group)) set(group, "aria-label", label(group));
    });
    // no key of the notebook's own while one of these has the focus: D D would delete the cell
    each(".noUi-handle, .jupyter-widget-Collapse-header, button, select, input:not([type=text])", control =>
      set(control, "data-lm-suppress-shortcuts", "true"));
    each("select, textarea", control => {
      // without a description, the label is hidden and empty, and hides the tooltip's text too
      if (control.title) set(control, "aria-label", control.title);
    });
    each("img.widget-image", image => set(image, "alt", "Picture; the words below it say what it shows"));
    const lines = root.querySelectorAll(":scope > .widget-html > .widget-html-content");
    set(lines[0], "role", "status");
    set(lines[1], "role", "alert");
  };

  root.classList.add("splaywork-panel");
  const style = document.createElement("style");
  style.textContent = `
    .splaywork-panel :is(.noUi-handle, input, select, textarea, button, .jupyter-widget-Collapse-header):focus-visible {
      outline: 2px solid var(--jp-ui-font-color1, #16191d) !important; outline-offset: 1px; }
    .splaywork-panel .noUi-handle { border-color: var(--jp-ui-font-color2, #505a64); }
    .splaywork-panel .noUi-handle[aria-disabled] { border-style: dashed; }
    .splaywork-panel :is(input, select, textarea) { border-color: var(--jp-ui-font-color2, #505a64) !important; }`;
  holder.appendChild(style);
  root.addEventListener("keydown", event => {
    if (event.target.matches(".jupyter-widget-Collapse-header") && (event.key === "Enter" || event.key === " ")) {
      event.preventDefault();
      event.stopPropagation();
      event.target.click();
    }
  });
  name();
  const watched = ["class", "disabled", "aria-valuetext", "tabindex", "title"];
  new MutationObserver(name).observe(root, {subtree: true, childList: true, attributeFilter: watched});
};
start();
"""


def names_for_access():
    """A widget that shows nothing, and names all that a panel holds; it goes among the panel's own children."""
    output = {"output_type": "display_data", "data": {"application/javascript": SCRIPT}, "metadata": {}}
    return widgets.Output(outputs=(output,), layout={"display": "none"})
