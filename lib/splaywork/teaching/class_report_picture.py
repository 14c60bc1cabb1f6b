"""The class report as a picture for the teacher: of those who tried, how many had it right, and the slips they made."""

from typing import Any

from ..drawing.canvas import Canvas
from ..drawing.palette import GUIDE, INK, PIN, SHORTCUT
from .class_report import COMMON, ClassReport
from .exercises import exercises_for, notebooks_with_exercises

WIDTH, ROW, LEFT = 820, 22, 330


class ClassReportPicture:
    """Bars for exercises and for slips, drawn once; `canvas` may be saved with `save_figure`."""

    def __init__(self, report: ClassReport) -> None:
        done, slips = report.done, report.slips.most_common(COMMON)
        self.canvas = canvas = Canvas(WIDTH, ROW * (len(done) + len(slips) + 5))
        most = max(1, len(report.learners))
        y = canvas.height - ROW
        tried, right, red = canvas.polygons(edge=GUIDE), canvas.polygons(PIN, INK), canvas.polygons(SHORTCUT)
        boxes: dict[str, list] = {"tried": [], "right": [], "red": []}

        def bar(kind, count):
            wide = (WIDTH - LEFT - 70) * count / most
            boxes[kind].append([(LEFT, y), (LEFT + wide, y), (LEFT + wide, y + 14), (LEFT, y + 14)])
            return LEFT + wide + 6

        canvas.text(12, y, f"Right at least once (blue), of those who tried; {len(report.learners)} learners", weight="bold")
        for number, (good, tries) in done.items():
            y -= ROW
            canvas.text(12, y + 2, _named(number), size=9)
            end = bar("tried", tries)
            bar("right", good)
            canvas.text(end, y + 2, f"{good} of {tries}", size=9)
        y -= 1.5 * ROW
        canvas.text(12, y, "Common slips, by learners who made them", weight="bold")
        for (number, kind), count in slips:
            y -= ROW
            said = "".join(letter if letter.isprintable() else " " for letter in kind)[:42]
            canvas.text(12, y + 2, f"{number}  {said}", size=9)
            canvas.text(bar("red", count), y + 2, f"{count}", size=9)
        for artist, kind in ((tried, "tried"), (right, "right"), (red, "red")):
            artist.set_verts(boxes[kind])

    def _repr_png_(self) -> Any:
        return self.canvas.png()


def _named(number):
    """An exercise by its number, and by what it asks for, where it is one of ours: a learner's file may name another."""
    notebook = number.partition("-")[0]
    known = exercises_for(notebook) if notebook in notebooks_with_exercises() else ()
    return next((f"{number}  {each.ask().label}"[:46] for each in known if each.id == number), number)


def class_report_still(report: ClassReport) -> ClassReportPicture:
    """A `ClassReport` as a picture: a bar for each exercise that was tried, and one for each common slip.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     picture = sw.class_report_still(sw.class_report(folder))
    >>> picture.canvas.width
    820
    """
    if not isinstance(report, ClassReport):
        raise ValueError("A class report's picture is drawn of a ClassReport, such as class_report('answers') gives.")
    return ClassReportPicture(report)
