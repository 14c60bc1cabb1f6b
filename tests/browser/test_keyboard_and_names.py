"""What Chromium's accessibility tree and the keyboard find on each panel, in JupyterLab and in Notebook 7."""

import pytest
from cases import THOROUGH, some
from lab import until
from twins import only_new

CONTROLS_OF = """root => Array.from(root.querySelectorAll("label, button, select, .jupyter-widget-Collapse-header"),
    control => control.tagName === "SELECT" ? "list" : control.textContent.replace(/[0-9]+/g, "")).join("|")"""
CONTROLS = {"slider", "textbox", "button", "combobox", "checkbox", "spinbutton", "radio"}
NEEDED = (".noUi-handle:not([aria-disabled]), input:not([disabled], [type=radio]), select:not([disabled]), textarea, button, "
          ".jupyter-widget-Collapse-header")

LOOK = """node => { const style = getComputedStyle(node);
                    return [style.outlineStyle, style.outlineWidth, style.outlineColor, style.boxShadow,
                            style.borderColor, style.borderWidth].join(" "); }"""
# how each control looks without the focus; the place of the one that has it, and its look
LOOKS = f"nodes => {{ document.activeElement.blur(); return nodes.map({LOOK}); }}"
FOCUSED = f"nodes => {{ const at = document.activeElement; return [nodes.indexOf(at), ({LOOK})(at)]; }}"


@pytest.fixture
def page(notebook):
    """A notebook, run in JupyterLab."""
    if notebook.path.name.startswith(("00", "01", "02", "03")):
        pytest.skip("no panel, or that of 04")
    return notebook


def roots_of(page):
    """The panels on the page, opened out."""
    roots = page.page.locator(".splaywork-panel")
    until(roots.count, "there are panels")
    page.page.locator(".jp-CodeCell .jp-InputPrompt").first.click()
    page.page.keyboard.press("Escape")  # command mode, in which JupyterLab takes most keys for its own
    return roots.all()


@pytest.fixture
def roots(request, page):
    """The panels on the page, opened out; one with the controls of another that this test has had, in a thorough run only."""
    found = roots_of(page)
    return only_new(request, found, [root.evaluate(CONTROLS_OF) for root in found])


def tree(root):
    """[(role, name)] of all that assistive technology finds in a part of the page."""
    root.evaluate("node => node.scrollIntoView()")  # what is far off the screen is left out of the tree
    session = root.page.context.new_cdp_session(root.page)
    root.evaluate("node => window.asked = node")
    found = session.send("Runtime.evaluate", {"expression": "window.asked"})["result"]["objectId"]
    nodes = session.send("Accessibility.queryAXTree", {"objectId": found})["nodes"]
    session.detach()
    return [(node["role"]["value"], node.get("name", {}).get("value", "").strip())
            for node in nodes if not node["ignored"]]


def unfold_by_keyboard(root):
    shut = root.locator(".jupyter-widget-Collapse:not(.jupyter-widget-Collapse-open) > .jupyter-widget-Collapse-header")
    while count := shut.count():
        shut.first.focus()
        root.page.keyboard.press("Enter")
        until(lambda count=count: shut.count() < count, "the folded part opens at the Enter key")


def test_every_control_has_a_name(roots):
    for root in roots:
        unfold_by_keyboard(root)
        named = until(lambda root=root: [part for part in tree(root) if part[0] in CONTROLS], "the tree is full")
        assert [part for part in named if not part[1]] == []
        assert not [name for _, name in named if name == "null" or not name[0].isprintable()]


def test_sliders_are_named_as_the_boxes_beside_them(roots):
    for root in roots:
        unfold_by_keyboard(root)
        found = tree(root)
        boxes, sliders = ([name for role, name in found if role == kind] for kind in ("textbox", "slider"))
        assert set(sliders) <= set(boxes)
        assert len(sliders) == root.locator(".noUi-handle").count()


def test_every_picture_has_its_words_below(roots):
    for root in roots:
        for picture in root.locator("> img.widget-image").all():
            assert picture.get_attribute("alt")
            words = picture.locator("xpath=following-sibling::*[1]").locator("[role=status]")
            assert words.text_content().strip().endswith(".")


def test_places_are_said_without_a_floats_last_digits(roots):
    for root in roots:
        for handle in root.locator(".noUi-handle").all():
            said = handle.get_attribute("aria-valuetext")
            assert said == f"{float(said):.10g}" and len(said) < 8


def test_tab_reaches_every_control_and_focus_can_be_seen(roots):
    """Each looks different, by an outline, a border or a shadow, when the Tab key has come to it."""
    for root in roots:
        unfold_by_keyboard(root)
        needed = root.locator(NEEDED).filter(visible=True)
        unseen = dict(enumerate(needed.evaluate_all(LOOKS)))
        needed.first.focus()
        root.page.keyboard.press("Shift")  # from the keyboard, not from the mouse
        for _ in range(len(unseen) + 5):
            place, look = needed.evaluate_all(FOCUSED)
            if unseen.get(place, look) != look:
                del unseen[place]
            root.page.keyboard.press("Tab")
        outer = needed.evaluate_all("nodes => nodes.map(node => node.outerHTML.slice(0, 120))")
        assert [outer[place] for place in unseen] == []


def test_keys_work_a_panel(page, roots):
    for root in roots:
        def turns(control, attribute, *keys, root=root):
            for key in keys:
                was = control.get_attribute(attribute)
                control.focus()
                root.page.keyboard.press(key)
                until(lambda was=was: control.get_attribute(attribute) != was, f"{key} changes {control}")

        for heading in root.locator(".jupyter-widget-Collapse-header").all():
            turns(heading, "aria-expanded", "Space", "Enter")
        unfold_by_keyboard(root)
        for number, handle in enumerate(some(root.locator(".noUi-handle:not([aria-disabled])").all(), 3)):
            keys = ("ArrowRight", "ArrowLeft", "ArrowUp", "ArrowDown", "End", "Home")
            turns(handle, "aria-valuetext", *(keys if THOROUGH or not number else keys[:2]))
        until(page.is_quiet, "the kernel has answered")  # its late answer to a slider may come between a key and what it does
        for buttons in root.locator(".widget-toggle-buttons").filter(visible=True).all():
            # the last that is up: whichever an earlier try, or another test, has left down
            turns(buttons.locator("button[aria-pressed=false]").last.element_handle(), "aria-pressed", "Enter")
        for choice in root.locator("select").all():
            choice.focus()
            root.page.keyboard.press("Home")
            until(page.is_quiet, "the kernel has answered")  # a late answer would put the first choice back
            root.page.keyboard.press("ArrowDown")
            assert root.page.evaluate("document.activeElement.tagName") == "SELECT"
            assert choice.evaluate("choice => choice.selectedIndex == Math.min(1, choice.options.length - 1)")
    assert page.troubles == []


def test_all_of_it_in_notebook_7(notebook_7):
    roots = roots_of(notebook_7)
    for test in (test_every_control_has_a_name, test_sliders_are_named_as_the_boxes_beside_them,
                 test_every_picture_has_its_words_below, test_places_are_said_without_a_floats_last_digits,
                 test_tab_reaches_every_control_and_focus_can_be_seen):
        test(roots)
    test_keys_work_a_panel(notebook_7, roots)
