"""Lesson scripts: every row set on its panel shows what it claims; minutes rise; what a table names stands on the panel."""

import re
from html import escape, unescape

import nbformat
import pytest
from places import NOTEBOOKS
from splaywork import Corner, lesson_panel, script, script_panel
from splaywork.common.class_corner import ClassCorner, beside_the_notebooks, save_class_corner
from splaywork.drawing.canvas import Canvas
from splaywork.teaching.scripts import apply, minutes_rows, minutes_table, scripts, settings_told
from splaywork.teaching.scripts.core import LENGTHS, NEXT, OURS, OfPairs, control
from widget_tree import within

ROWS = [(notebook, number) for notebook in scripts() for number, row in enumerate(script(notebook).rows) if row.on]
each = pytest.mark.parametrize("notebook", scripts())


@pytest.mark.parametrize(("notebook", "number"), ROWS)
def test_a_row_shows_what_it_says(notebook, number):
    lesson = script(notebook)
    row, panel = lesson.rows[number], lesson.panel(lesson.rows[number].on)
    opened, settings = panel.image.value, lesson.settings(row)
    apply(settings, panel)
    assert row.check(panel)
    assert panel.message.value == ""
    told = settings_told(settings, panel)
    assert told.count("**") >= 2 * len(settings)
    for key, value in settings:
        assert value is None or control(panel, key).value == value
    apply(settings, panel)  # from any state to the same picture
    again = panel.image.value
    for key, _ in settings:
        if key in panel.dials:
            panel.dials[key].field.value = str(panel.dials[key].slider.min)
    apply(settings, panel)
    assert panel.image.value == again
    assert again != opened or not settings or _opens_there(settings, lesson.panel(row.on))


def _opens_there(settings, panel):
    return all(value is None or control(panel, key).value == value for key, value in settings)


# The class corner: what the pairs work on follows it, and what keeps leans of its own says why.

KEPT = [ClassCorner(22, 14, 90, 15), ClassCorner(16, 11), ClassCorner(-20, 13), ClassCorner(30, 10), ClassCorner(-18, -12),
        ClassCorner(45, 6), ClassCorner(8, 6), ClassCorner(12, 0), ClassCorner(0, 0), ClassCorner(45, 45)]
FOLLOW = {"02", "03", "04", "05", "06", "09"}


@pytest.fixture
def keep(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return lambda kept: save_class_corner(beside_the_notebooks(), kept)


def followers(lesson):
    """Rows whose claim is made of the pairs' corner: those of panels that open at it or are set to it, and of its wood."""
    def follows(row):
        leans = dict(row.settings).get("tail_lean"), dict(row.settings).get("pin_lean")
        opens = any(isinstance(value, OfPairs) for value in (lesson.panels[row.on][1].values() if row.on else ()))
        return not row.own and (not row.on or opens or any(isinstance(lean, OfPairs) for lean in leans))
    return [row for row in lesson.rows if row.check and follows(row)]


@pytest.mark.parametrize("kept", KEPT, ids=str)
def test_what_is_said_of_the_pairs_corner_is_so_at_the_class_corner(keep, kept):
    keep(kept)
    followed = 0
    for lesson in map(script, sorted(FOLLOW)):
        assert lesson.pairs in (kept, OURS)
        followed += lesson.pairs is not OURS
        panels = {name: lesson.panel(name) for name in lesson.panels}
        for row in followers(lesson):
            if row.on:
                apply(lesson.settings(row), panels[row.on])
                for key, value in row.settings:
                    if isinstance(value, OfPairs):
                        assert control(panels[row.on], key).value == getattr(lesson.pairs, value.key)
            assert row.check(panels[row.on] if row.on else Corner(lesson.pairs.tail_lean, lesson.pairs.pin_lean)), row.say
    assert (followed >= 4) == (kept in KEPT[:6]) and (followed == 0) == (kept == ClassCorner(0, 0))


def test_only_lessons_that_say_so_follow_and_each_row_of_own_leans_says_why():
    counted = 0
    for notebook in scripts():
        lesson = script(notebook)
        assert (lesson.suits is not None) == (notebook in FOLLOW)
        for row in lesson.rows:
            leans = [value for key, value in row.settings if key.endswith("lean")]
            if leans and not all(isinstance(value, OfPairs) for value in leans):
                assert row.own or row.on in lesson.own, row.do
                counted += 1
            else:
                assert not row.own
        for name, (_, arguments) in lesson.panels.items():
            numbers = [value for key, value in arguments.items() if key.endswith(("lean", "line")) and value != 0]
            if not all(isinstance(value, OfPairs) for value in numbers):
                assert name in lesson.own
    assert counted >= 8


def page(notebook):
    return script(notebook)._repr_markdown_()


def test_the_page_and_the_panel_of_a_lesson_follow_the_class_corner(keep):
    assert "two wedges at 16°" in page("02") and "22°" not in page("02")
    keep(ClassCorner(22, 14))
    assert "two wedges at 22°" in page("02") and "**Tail lean** 22" in page("02") and "**Tail lean** 30" in page("02")
    assert "16" not in page("02").replace("**Tail lean** −16", "")
    assert "two wedges at 22°, two at 14°" in page("04") and "by 1.2 mm on one board, by 1.8 on" in page("04")
    panel, own = script_panel("02", 45), script("02").rows[2].own
    for number, lean in ((1, 22), (2, 30)):
        panel.go(number)
        assert panel.panels["corner"].dials["tail_lean"].value == lean
        assert (own in panel.said.value) == (number == 2)


def test_a_class_corner_that_shows_nothing_leaves_a_lesson_its_own(keep):
    keep(ClassCorner(8, 6))
    assert script("04").pairs is OURS and "two wedges at 16°, two at 11°" in page("04")
    assert "keeps 16° and 11°" in script_panel("04").script.why_own(script("04").rows[1])
    beside_the_notebooks().write_text("nothing")
    assert script("02").pairs is OURS and script("02").why_own(script("02").rows[1]) == ""


def test_the_box_of_10_goes_back_to_the_plan_before_each_row():
    lesson = script("10")
    panel = lesson.panel("box")
    opened = {key: dial.value for key, dial in panel.dials.items()}
    for row in (row for row in lesson.rows if row.on):
        apply(lesson.settings(row), panel)
        kept = {key: value for key, value in opened.items() if key not in dict(row.settings) and key != "tails"}
        assert kept == {key: panel.dials[key].value for key in kept}


def test_a_check_can_fail():
    """With the shortcut's own corner left upright, no row of 04 and 07 that speaks of a gap holds."""
    failed = 0
    for notebook in ("04", "07"):
        for row in script(notebook).rows:
            if row.on:
                panel = script(notebook).panel(row.on)
                apply(script(notebook).settings(row), panel)
                for lean in ("tail_lean", "pin_lean"):
                    panel.dials[lean].field.value = "0"
                failed += not row.check(panel)
    assert failed >= 8


@each
def test_minutes_rise_and_keep_to_the_lesson(notebook):
    lesson = script(notebook)
    for minutes in LENGTHS:
        marks = [minute for minute, _ in lesson.at(minutes)]
        assert marks[0] == 0 and marks == sorted(set(marks)) and minutes - 12 < marks[-1] < minutes
    assert len(lesson.at(45)) == len(lesson.rows) >= 6 > 3 <= len(lesson.at(20))
    assert "Predict" in " ".join(row.do for row in lesson.rows) or notebook in ("06",)


BY_HAND = [(notebook, number) for notebook in scripts() for number, row in enumerate(script(notebook).rows)
           if row.check and not row.on]


def test_the_table_is_told_without_drawing_its_panels(monkeypatch):
    drawn, image = [], Canvas.image
    monkeypatch.setattr(Canvas, "image", lambda canvas: drawn.append(canvas) or image(canvas))
    assert "**Tail lean** 30" in minutes_table(script("04")) and not drawn
    assert script("04").panel("corner").image.value and drawn


@pytest.mark.parametrize(("notebook", "number"), BY_HAND)
def test_what_is_said_of_wood_and_paper_is_so(notebook, number):
    assert script(notebook).rows[number].check(Corner(16, 11))


def test_rows_that_give_numbers_of_wood_and_paper_are_checked():
    """A number that is spoken or seen, with a panel or without, is worked out: each such row of 04 and 07 has its check."""
    counted = 0
    for notebook in ("04", "07"):
        for row in script(notebook).rows:
            if re.search(r"\d(?! s|°)|millimetre", script(notebook).text(row.say) + row.sees):
                assert row.check, row.say
                counted += 1
    assert counted >= 8


@each
def test_every_row_has_something_short_to_say(notebook):
    """One sentence or a few, each short enough to be said in one breath."""
    for row in script(notebook).rows:
        say = script(notebook).text(row.say)
        sentences = re.split(r"(?<=[.?!]) ", say)
        assert say[-1] in ".?" and len(sentences) <= 3 and 3 <= len(say.split()) <= 26, say
        assert all(2 <= len(sentence.split()) <= (22 if len(sentences) == 1 else 16) for sentence in sentences), row.say
        sees = script(notebook).text(row.sees)
        assert row.do[-1] in ".?*" and (not sees or sees[-1] in ".”*"), row
        assert ("{set}" in row.do) == bool(row.settings)


@each
def test_what_is_asked_has_its_answer(notebook):
    lesson = script(notebook)
    for _, answer in ((lesson.ask, lesson.answer), *(lesson.short,) * bool(lesson.short), *lesson.questions):
        assert answer[-1] == "." and f"{answer}" in lesson._repr_markdown_()


def test_the_steps_of_a_row_are_numbered():
    """Begun on lines of their own, on the page as on paper; and what they use is among the props."""
    counted = 0
    for lesson in map(script, scripts()):
        table = minutes_table(lesson)
        for _, do, _, _ in minutes_rows(lesson):
            steps = do.split(NEXT)[1:]
            assert [step.split(" ")[0] for step in steps] == [f"{number}." for number in range(1, len(steps) + 1)]
            counted += len(steps)
            assert do.replace(NEXT, "<br>") in table
    assert counted == 6
    assert all(thing in script("04").props for thing in ("wedges", "bevel", "wooden straightedge", "try square", "clamps"))


@each
def test_of_several_panels_each_row_and_the_bar_above_say_which(notebook):
    lesson = script(notebook)
    if len(lesson.panels) < 2:
        return
    assert set(lesson.called) == set(lesson.panels) and len(set(lesson.called.values())) == len(lesson.panels)
    panel, named, last = script_panel(notebook, 45), 0, None
    for number, (_, row) in enumerate(panel.rows):
        panel.go(number)
        if not row.on:
            assert "panel <b>" not in panel.said.value
            continue
        assert f"panel <b>{lesson.called[row.on]}</b>" in panel.said.value
        assert row.on == last or row.covered or f"anel **{lesson.called[row.on]}**" in row.do
        named, last = named + 1, row.on
    assert named >= 3


@each
def test_the_table_names_what_stands_on_the_panels(notebook):
    lesson = script(notebook)
    table = minutes_table(lesson)
    assert table.count("\n") == len(lesson.rows) + 1
    assert all(lesson.text(row.say) in table for row in lesson.rows) and "{set}" not in table


@each
def test_names_in_bold_stand_on_the_panels(notebook):
    lesson = script(notebook)
    written = " ".join([row.do for row in lesson.rows] + [part for pair in lesson.wrong for part in pair])
    bold = set(re.findall(r"\*\*([^*]+)\*\*", written))
    names = set()
    for widget in (each for name in lesson.panels for each in within(lesson.panel(name))):
        names |= {getattr(widget, "description", "")} | set(getattr(widget, "titles", ()))
    assert bold <= names | set(lesson.called.values()) | {"Next"}
    for row in lesson.rows:
        assert row.do.count("**Next**") == 2 * row.waits


@each
def test_the_notebook_shows_the_panels_of_its_script(notebook):
    paths = list(NOTEBOOKS.glob(f"{notebook}_*.ipynb"))
    for public, _ in script(notebook).panels.values() if paths else ():
        assert any(public in cell.source for cell in nbformat.read(paths[0], as_version=4).cells if cell.cell_type == "code")


@pytest.mark.parametrize("wrong", [lambda: script("12"), lambda: script(4), lambda: script_panel("99"),
                                   lambda: script_panel("04", 30)])
def test_what_there_is_no_script_for(wrong):
    with pytest.raises(ValueError, match=r"\.$"):
        wrong()


@pytest.mark.parametrize("minutes", LENGTHS)
def test_next_and_back_set_the_panel_and_say_the_sentence(minutes):
    panel = script_panel("07", minutes)
    rows = panel.script.at(minutes)
    for forth in (True, False):
        for _ in rows:
            minute, row = panel.rows[panel.at]
            said = unescape(panel.said.value)
            first = panel.script.text(row.ask if row.waits and row.ask else row.say)
            assert re.search(rf"minute {minute}[<,]", said) and first in said
            if row.waits and forth:
                assert panel.waits and ("Drag, then Next" if row.start else "Next shows it") in said
                panel.next.click()
                assert panel.script.text(row.say) in unescape(panel.said.value)
            if row.on and forth:
                shown = panel.panels[row.on]
                assert panel.children[0] is shown and shown.children[0] is panel._bar and row.check(shown)
            (panel.next if forth else panel.back).click()
    assert panel.at == 0
    assert sum(each.children[:1] == (panel._bar,) for each in panel.panels.values()) == 1


def test_a_lesson_is_chosen_from_a_list_and_begun():
    panel = lesson_panel()
    assert [number for _, number in panel.lesson.options] == list(scripts()) and panel.given.children == ()
    for number, minutes in (("04", 20), ("07", 45)):
        panel.lesson.value, panel.minutes.value = number, minutes
        panel.begin.click()
        given, = panel.given.children
        assert given.script is script(number) and given.rows == script(number).at(minutes) and given.at == 0


def test_the_window_stays_filled_from_panel_to_panel():
    panel = script_panel("07", 20)
    first = panel.children[0]
    first.present()
    while panel.rows[panel.at][1].on != "close":
        panel.next.click()
    assert panel.children[0] is panel.panels["close"] is not first
    assert panel.children[0].fill.value and not first.fill.value


def test_a_script_without_a_panel_has_its_sentences():
    panel = script_panel("11")
    panel.next.click()
    assert panel.children[0] is panel._bar and "2 of" in panel.said.value


@each
def test_where_the_class_predicts_a_click_counts_a_hand(notebook):
    panel = script_panel(notebook)
    asks = [number for number, (_, row) in enumerate(panel.rows) if row.hands]
    assert asks[:1] == [number for number, (_, row) in enumerate(panel.rows) if "*Predict" in row.do][:1]
    for number in asks:
        panel.go(number)
        buttons = list(panel.hands_bar.buttons.values())
        assert panel.hands_bar.layout.display == "" and 2 <= len(buttons) <= 4
        buttons[0].click(), buttons[1].click(), buttons[1].click(), panel.hands_bar.undo.click()
        panel.go(number + 1)
        assert panel.hands_bar.layout.display == "none" or panel.at in asks
        panel.go(number)  # and they are still there
        counted = [button.description[-3:] for button in panel.hands_bar.buttons.values()]
        assert counted == [": 1", ": 1", ": 0", ": 0"][:len(buttons)]


@pytest.mark.parametrize("notebook", [each for each in scripts() if script(each).panels])
def test_the_picture_is_covered_until_the_class_has_predicted(notebook):
    panel = script_panel(notebook)
    first = next(iter(panel.panels.values()))
    hidden = first.image, first.sentence
    for number, (_, now) in enumerate(panel.rows):
        panel.go(number)
        begun = any(each.on for _, each in panel.rows[:number + 1])
        if now.covered and begun:
            continue
        assert [part.layout.display == "none" for part in hidden] == [not begun] * 2
        assert (panel.asked.layout.display == "none") == (begun or not now.hands)
        if not begun and now.hands:
            assert escape(panel.script.text(now.say)) in panel.asked.value
    panel.go(0)
    assert (first.image.layout.display == "none") == (not panel.rows[0][1].on)


def test_the_page_hears_of_each_dial_once_for_a_row(monkeypatch):
    panel, sent = script_panel("04"), []
    dial = panel.panels["corner"].dials["pin_lean"]
    tell = type(dial.slider).send_state
    monkeypatch.setattr(type(dial.slider), "send_state", lambda self, key=None: (
        sent.append(self.value) if self is dial.slider and key != set() else None, tell(self, key)))
    panel.go(5)
    sent.clear()
    panel.next.click()
    assert panel.rows[5][1].settings == (("tail_lean", 30), ("pin_lean", 0))
    assert set(sent) == {0.0} and dial.value == 0


WAITING = [(notebook, number) for notebook in scripts() for number, row in enumerate(script(notebook).rows)
           if row.waits or row.covered]


@pytest.mark.parametrize(("notebook", "number"), WAITING)
def test_next_shows_first_where_a_row_starts_and_then_what_is_to_be_seen(notebook, number):
    panel = script_panel(notebook, 45)
    now = panel.rows[number][1]
    panel.go(number)
    shown = panel.children[0]
    covered = shown.image.layout.display == "none"
    assert covered == now.covered and (panel.asked.layout.display == "") == covered
    assert not covered or escape(now.ask or now.say) in panel.asked.value
    assert not now.ask or escape(now.say) not in panel.asked.value + panel.said.value  # which would answer it
    if not now.on:  # what is counted in the room has no picture to come
        panel.next.click()
        assert panel.at == min(number + 1, len(panel.rows) - 1)
        return
    assert panel.waits and (now.covered or not now.check(shown)), "the row has its answer to come"
    panel.next.click()
    assert panel.at == number and not panel.waits and shown.image.layout.display == "" and now.check(shown)
    assert (panel.asked.layout.display == "") == bool(now.answer) and escape(now.answer) in panel.asked.value
    panel.next.click()
    assert panel.at == min(number + 1, len(panel.rows) - 1)


def test_there_are_rows_that_wait():
    assert len(WAITING) >= 5
