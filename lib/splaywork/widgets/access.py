"""What a panel needs of the page and ipywidgets leaves out, set by a script: names, keys, the kernel's end, the full window.

In ipywidgets 8 a slider's handle has no name and its place is said with a float's last digits, the heading of a folded
part is passed over by the Tab key, buttons don't say that they are pressed, and a picture has no alternative text; none
of these can be set from Python. And JupyterLab takes arrow keys, Enter and letters on them for its own, unless told. An
Output widget carries the script, so that it runs wherever the panel is shown and leaves nothing in a notebook's file.
Where scripts from outputs don't run, the panel works as ipywidgets made it.

The script also says when the kernel has ended, reports how many pixels wide the picture is shown (a dense screen or a zoomed
page gets a sharper one), and lays the panel over the whole window while Python has put the class `PRESENTING` on it: as a
popover, because JupyterLab's own boxes would hold back an element that is merely fixed.
"""

from typing import Any

import ipywidgets as widgets

PRESENTING = "splaywork-presenting"
NEEDED_WIDTH = 1.75  # of a window's heights that a picture of 920 × 430 is wide when its capitals are 1/50 of that height

DEAD = "Run this cell again: the kernel that moved this panel has ended, and nothing here answers any more."

# What a notebook's file keeps beside a panel. With its kernel, the picture that is kept gives way to the panel; opened again
# without it, JupyterLab finds no panel to show, and the picture and one sentence stand where it would complain of that. The
# style also keeps words of printed lines whole, and lines short enough to read where Voilà serves the notebook.
REOPENED = """<style class="splaywork-reopened">
.jp-OutputArea-child:has(.splaywork-reopened) { display: none; }
.jp-OutputArea-child:has(.splaywork-reopened) + .jp-OutputArea-child:has(> .jp-RenderedImage):has(+ * .splaywork-panel)
  { display: none; }
body[data-voila] .jp-Cell { max-width: 1060px; margin-left: auto; margin-right: auto; }
.jp-RenderedText pre, .output_subarea pre { word-break: normal; overflow-wrap: break-word; }
.jp-OutputArea-child:has(.splaywork-reopened) ~ .jp-OutputArea-child > .jupyter-widgets:not(:has(*)) { font-size: 0; }
.jp-OutputArea-child:has(.splaywork-reopened) ~ .jp-OutputArea-child > .jupyter-widgets:not(:has(*))::after
  { content: "Run this cell, and its panel appears here."; font-size: var(--jp-content-font-size1, 14px); }
</style>"""

SCRIPT = """
const start = () => {
  const holder = element.closest(".jupyter-widgets.widget-output");
  const root = holder && holder.parentElement;
  if (!root) { requestAnimationFrame(start); return; }  // not yet on the page
  const set = (node, name, value) => { if (node && node.getAttribute(name) !== value) node.setAttribute(name, value); };
  const each = (selector, act) => root.querySelectorAll(selector).forEach(act);
  const label = node => { const found = node && node.querySelector("label"); return found ? found.textContent : ""; };

  const place = handle =>
    set(handle, "aria-valuetext", String(Number(Number(handle.getAttribute("aria-valuetext")).toFixed(6))));

  const name = () => {
    each(".noUi-handle", handle => {
      const slider = handle.closest(".widget-slider");
      set(handle, "aria-label", label(slider) || label(slider.parentElement.querySelector(":scope > .widget-text")));
      place(handle);
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
    each(".widget-toggle-button, .widget-toggle-buttons button, .splaywork-preset", button =>
      set(button, "aria-pressed", String(button.classList.contains("mod-active"))));
    each(".widget-toggle-buttons, .widget-radio", group => {
      set(group, "role", group.matches(".widget-radio") ? "radiogroup" : "group");
      if (label(group)) set(group, "aria-label", label(group));
    });
    each(".widget-play button > i", icon => {  // else a button's name is its icon's letter
      const said = {"fa-play": "Play", "fa-pause": "Pause", "fa-stop": "Stop", "fa-retweet": "Repeat"};
      for (const kind in said) if (icon.classList.contains(kind)) for (const attribute of ["aria-label", "title"])
        set(icon.parentElement, attribute, said[kind]);
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
    each(".splaywork-act .widget-html-content", line => set(line, "role", "status"));
    tell();
    present();
    const next = root.querySelector(".splaywork-next");  // made anew on each panel: there the keys go on, and don't leave
    if (next && filling() && !next.dataset.reached) {
      next.dataset.reached = "yes";
      if (document.activeElement === fill || !root.contains(document.activeElement)) next.focus({preventScroll: true});
    }
  };

  // a panel whose kernel has ended says so, and takes no more clicks; what it was doing is not to be waited for
  const ended = document.createElement("div");
  ended.className = "splaywork-ended";
  ended.setAttribute("role", "alert");
  root.prepend(ended);
  const tell = () => {
    const gone = root.classList.contains("jupyter-widgets-disconnected");
    if (gone === Boolean(ended.textContent)) return;
    ended.textContent = gone ? "DEAD" : "";
    for (const part of root.children) {
      if (!part.matches(".widget-image, .widget-html, .splaywork-ended")) part.inert = gone;
    }
  };

  // the presenter's view: over all that the page shows, and back to where it stood
  const focusable = () => [...root.querySelectorAll("button, input, select, textarea, [tabindex='0']")]
    .filter(node => !node.disabled && node.getClientRects().length && !node.closest("[inert]"));
  const scroller = root.closest(".jp-WindowedPanel-outer");
  const fill = root.querySelector(".splaywork-fill"), size = root.querySelector(".splaywork-window input");
  const image = root.querySelector(":scope > img.widget-image");
  let kept = 0;
  const filling = () => root.classList.contains("PRESENTING");
  const keys = event => {
    if (event.key === "Escape") {
      event.preventDefault();
      event.stopImmediatePropagation();
      if (!root.classList.contains("jupyter-widgets-disconnected")) fill.click();
      root.classList.remove("PRESENTING");  // at once, and when no kernel answers
    } else if (event.key === "Tab") {
      const stops = focusable(), at = stops.indexOf(document.activeElement), last = stops.length - 1;
      const next = event.shiftKey ? (at <= 0 ? last : null) : (at === last || at < 0 ? 0 : null);
      if (next !== null) { event.preventDefault(); stops[next].focus(); }
    }
  };
  const present = () => {
    if (!fill || filling() === root.hasAttribute("popover")) return;
    const focused = document.activeElement;
    if (filling()) {
      kept = scroller ? scroller.scrollTop : 0;
      root.setAttribute("popover", "manual");
      root.showPopover();
      document.addEventListener("keydown", keys, true);
      (root.contains(focused) ? focused : fill).focus({preventScroll: true});
    } else {
      document.removeEventListener("keydown", keys, true);
      root.hidePopover();
      root.removeAttribute("popover");
      root.style.removeProperty("--splaywork-picture");
      if (scroller) scroller.scrollTop = kept;
      (root.contains(focused) ? focused : fill).focus({preventScroll: !scroller || kept > 0});
    }
    measure();
  };
  const measure = () => {
    if (!image || !size) return;
    if (filling()) {
      const rest = [...root.children].filter(part => part.matches(".splaywork-bar, .widget-html, .splaywork-ended"))
        .reduce((sum, part) => sum + part.offsetHeight, 8);
      const ratio = image.naturalWidth / image.naturalHeight || 2;
      const least = Math.min(window.innerWidth, NEEDED * window.innerHeight * Math.min(1, ratio * 430 / 920));
      const wide = Math.max(least, Math.min(window.innerWidth, ratio * (window.innerHeight - rest)));
      root.style.setProperty("--splaywork-picture", `${Math.floor(wide)}px`);
    }
    const pixels = String(Math.round(image.getBoundingClientRect().width * window.devicePixelRatio));
    if (pixels !== "0" && size.value !== pixels) {
      size.value = pixels;
      size.dispatchEvent(new Event("change", {bubbles: true}));
    }
  };
  if (image) new ResizeObserver(measure).observe(image);
  window.addEventListener("resize", measure);

  root.classList.add("splaywork-panel");
  const style = document.createElement("style");
  style.textContent = `
    .splaywork-panel :is(.noUi-handle, input, select, textarea, button, .jupyter-widget-Collapse-header):focus-visible {
      outline: 2px solid var(--jp-ui-font-color1, #16191d) !important; outline-offset: 1px; }
    .splaywork-panel .noUi-handle { border-color: var(--jp-ui-font-color2, #505a64); }
    .splaywork-panel .noUi-handle[aria-disabled] { border-style: dashed; }
    .splaywork-panel :is(input, select, textarea) { border-color: var(--jp-ui-font-color2, #505a64) !important; }
    .splaywork-panel.jupyter-widgets-disconnected > [inert] { opacity: 0.55; }
    .splaywork-panel.jupyter-widgets-disconnected .splaywork-act { display: none; }
    .splaywork-panel.jupyter-widgets-disconnected::before, .splaywork-panel .jupyter-widgets-disconnected::before
      { display: none; }
    .splaywork-ended:not(:empty) { position: sticky; top: 0; z-index: 2; background: var(--jp-layout-color0, #fff);
      margin: 4px 2px; padding: 6px 8px; border: 2px solid currentColor; font-weight: bold; }
    .splaywork-panel :is(.widget-text, .widget-dropdown, .widget-select-multiple, .widget-textarea, .widget-checkbox)
      { max-width: calc(100% - 4px) !important; }
    .splaywork-panel :is(.widget-box, .jupyter-widget-Collapse, .jupyter-widget-Collapse-contents, .lm-Panel)
      { min-width: 0; max-width: 100%; }
    .splaywork-panel .widget-toggle-buttons, .splaywork-panel .widget-toggle-buttons > div { flex-wrap: wrap; }
    .splaywork-panel :is(.widget-checkbox, .widget-checkbox label) { height: auto; white-space: normal; }
    .splaywork-panel .noUi-handle { touch-action: none; }
    @media (max-width: 600px) {  /* a phone: what the picture says stays legible, and the picture is moved sideways */
      .splaywork-panel { overflow-x: auto; }
      .splaywork-panel > .widget-image { min-width: 640px; }
    }
    .splaywork-panel.PRESENTING {
      position: fixed; inset: 0; width: 100vw; height: 100vh; max-width: none; max-height: none; margin: 0; padding: 0;
      border: none; box-sizing: border-box; z-index: 100000; display: flex; flex-flow: column nowrap; overflow: hidden auto;
      background: #fff; color: #000; --jp-widgets-font-size: 1.8vh; --jp-widgets-inline-height: 3.4vh;
      --jp-widgets-margin: 1px;
      --jp-widgets-label-color: #000; --jp-widgets-readout-color: #000; --jp-widgets-input-color: #000;
      --jp-widgets-inline-width: auto; --jp-ui-font-color1: #000; --jp-content-font-color1: #000; }
    .PRESENTING > * { flex: none; }
    .PRESENTING > .splaywork-bar { flex-flow: row wrap; align-content: flex-start; overflow: hidden auto; max-height: 8.4vh;
      width: calc(100vw - 17.4vh); padding: 0; }
    .PRESENTING > .splaywork-bar .widget-hbox { flex-wrap: nowrap; flex: none; align-items: center; margin-right: 0.3vw; }
    .PRESENTING > .splaywork-bar > .widget-hbox:not(:has(> .widget-text)) { display: contents; }
    .PRESENTING > .splaywork-hands button { font-size: 2.9vh !important; }
    .PRESENTING > .splaywork-bar :is(.widget-toggle-buttons, .widget-toggle-buttons > div) { flex-wrap: nowrap; flex: none; }
    .PRESENTING > .splaywork-bar > .widget-toggle-buttons { margin: 0; }
    .PRESENTING > .splaywork-bar .widget-hbox:has(> .widget-text):has(> .widget-slider) { flex: 1 1 auto; }
    .PRESENTING > .splaywork-bar .widget-slider { flex: 1 1 auto; width: 22vh !important; max-width: 70vh; }
    .PRESENTING > .splaywork-bar button { min-width: 0 !important; }
    .PRESENTING > .splaywork-bar .splaywork-unit { display: none !important; }
    .PRESENTING :is(.widget-button, .widget-toggle-button, .widget-toggle-buttons button, .widget-text, .widget-dropdown)
      { width: auto !important; flex: none; }
    .PRESENTING :is(.widget-text, .widget-dropdown, .widget-toggle-buttons) label { width: auto !important; flex: none; }
    .PRESENTING .widget-text input { flex: none; width: auto; min-width: 7em; field-sizing: content; }
    .PRESENTING > .splaywork-bar .widget-text input { width: 6.3em; field-sizing: fixed; }
    .PRESENTING .widget-dropdown select { flex: none; width: auto; }
    .PRESENTING :is(input, select, button, label) { font-size: 1.8vh; }  /* for the teacher, who stands near */
    .PRESENTING > .widget-image { width: var(--splaywork-picture, 100%); max-width: none !important; height: auto;
      align-self: center; margin: 0; }
    .PRESENTING > .widget-html { min-height: 0 !important; margin: 0 1vw; }
    .PRESENTING > .widget-html .widget-html-content { font-size: 2.9vh; line-height: 1.15; }
    .PRESENTING .splaywork-fill { position: fixed; top: 3px; right: 6px; width: auto !important; z-index: 1; }`;
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
  // what moves at each step is seen to at once; all the names, which take a while, when the page has a moment
  let due = 0;
  new MutationObserver(changes => {
    for (const change of changes) if (change.attributeName === "aria-valuetext") place(change.target);
    tell();
    present();
    if (!due) due = setTimeout(() => { due = 0; name(); }, 60);
  }).observe(root, {subtree: true, childList: true, attributeFilter: watched});
};
start();
""".replace("DEAD", DEAD).replace("PRESENTING", PRESENTING).replace("NEEDED", str(NEEDED_WIDTH))


def names_for_access() -> Any:
    """A widget that shows nothing, and names all that a panel holds; it goes among the panel's own children."""
    output = {"output_type": "display_data", "data": {"application/javascript": SCRIPT}, "metadata": {}}
    return widgets.Output(outputs=(output,), layout={"display": "none"})
