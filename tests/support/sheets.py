"""Printed sheets read back, and the box worked out again by planes."""

import re
from functools import cache

import numpy as np
import pypdfium2
from mpmath import mp
from plane_route import angle_between, cross, dot
from plane_route import unit as unit_vector
from splaywork.common.reading import read_length

MM = 25.4 / 72  # of a PDF point
DECIMAL = "0.001 in"
HALF_INCHES = {"in": 25.4 / 128, DECIMAL: 25.4 / 2000}  # mm, half of what is printed
SIZES = {"A4": (210, 297), "A3": (297, 420), "Letter": (8.5 * 25.4, 11 * 25.4)}


def texts_of(path):
    """The words of each page of a file. pdfium only: pdfplumber, which says where each letter and line lies, takes long."""
    with pypdfium2.PdfDocument(path) as file:
        return [" ".join(page.get_textpage().get_text_bounded().split()) for page in file]


# A page is read once: its words, and itself without what is turned.


@cache
def words_of(page):
    return page.extract_words(use_text_flow=False, keep_blank_chars=False, extra_attrs=["size"])


@cache
def upright(page):
    """The page without text that is turned."""
    return page.filter(lambda item: item["object_type"] != "char" or not item["matrix"][1])


def labels(page):
    """The texts of a page that isn't printed yet."""
    return [item.text for item in page.around if hasattr(item, "text")]


def boxes_of(words):
    return np.array([[word["x0"], word["top"], word["x1"], word["bottom"]] for word in words]).reshape(-1, 4)


def overlaps(boxes, others):
    """Pairs (i, j) whose boxes (x0, top, x1, bottom) have more than a hair in common, in points."""
    common = np.minimum(boxes[:, None, 2:], others[None, :, 2:]) - np.maximum(boxes[:, None, :2], others[None, :, :2])
    return np.argwhere((common > 0.25).all(axis=2))


NAMES = ("front", "right", "back", "left")
OUT = {"front": (0, -1, 0), "right": (1, 0, 0), "back": (0, 1, 0), "left": (-1, 0, 0)}
ALONG = {name: cross((0, 0, 1), outward) for name, outward in OUT.items()}  # to the right, seen from outside


def meet(*planes):
    """The point where three planes (normal, offset) meet."""
    return tuple(mp.lu_solve(mp.matrix([list(normal) for normal, _ in planes]), mp.matrix([off for _, off in planes])))


def minus(u, v):
    return tuple(x - y for x, y in zip(u, v, strict=True))


def size(u):
    return mp.sqrt(dot(u, u))


class Planes:
    """A box by planes; lengths in mm, angles in degrees."""

    def __init__(self, box):
        mp.dps = 50
        self.box, self.high = box, mp.mpf(box.height)
        self.outer, self.inner, self.rims, self.up = {}, {}, {}, {}
        level = self.high if box.measured == "outside at the top" else mp.mpf(0)
        at = {"front": 0, "left": 0, "right": mp.mpf(box.width), "back": mp.mpf(box.depth)}
        for name in NAMES:
            lean, thick = mp.radians(mp.mpf(box.lean(name))), mp.mpf(box.thickness_of(name))
            out = OUT[name]
            normal = tuple(mp.cos(lean) * side - mp.sin(lean) * top for side, top in zip(out, (0, 0, 1), strict=True))
            point = *(at[name] * abs(side) for side in out[:2]), level
            offset = dot(normal, point) + (thick if box.measured == "inside at the bottom" else 0)
            self.outer[name], self.inner[name] = (normal, offset), (normal, offset - thick)
            self.up[name] = unit_vector(cross(normal, ALONG[name]))
            for rim, height in (("bottom", mp.mpf(0)), ("top", self.high)):
                if box.rims == "level":
                    self.rims[name, rim] = (0, 0, 1), height
                else:  # square to the face, through its outer arris
                    arris = meet(self.outer[name], ((0, 0, 1), height), (ALONG[name], 0))
                    self.rims[name, rim] = self.up[name], dot(self.up[name], arris)

    @staticmethod
    def beside(name, end):
        number = NAMES.index(name)
        return NAMES[number - 1] if end == "left" else NAMES[(number + 1) % 4]

    def length(self, name, face, rim):
        """Between the end lines on the outer face, between the baselines on the inner."""
        planes = getattr(self, face)
        ends = [meet(planes[name], planes[self.beside(name, end)], self.rims[name, rim]) for end in ("left", "right")]
        return dot(minus(ends[1], ends[0]), ALONG[name])

    def slant_width(self, name):
        foot, head = (meet(self.outer[name], ((0, 0, 1), height), (ALONG[name], 0)) for height in (0, self.high))
        return size(minus(head, foot))

    def _end(self, name, end, other_face="outer"):
        other = getattr(self, other_face)[self.beside(name, end)]
        return [meet(self.outer[name], other, ((0, 0, 1), height)) for height in (0, self.high)]

    def end_line(self, name, end):
        foot, head = self._end(name, end)
        run = dot(minus(head, foot), ALONG[name]) * (1 if end == "right" else -1)
        return mp.degrees(mp.atan2(run, dot(minus(head, foot), self.up[name])))

    def end_bevel(self, name, end):
        return 90 - angle_between(self.outer[name][0], self.outer[self.beside(name, end)][0])

    def baseline(self, name, end):
        foot, head = self._end(name, end)
        gauge = self._end(name, end, "inner")[0]
        return size(cross(minus(gauge, foot), unit_vector(minus(head, foot))))

    def rim_bevel(self, name):
        """How far the rim's plane is turned from square to the face; positive as the lean is."""
        normal = self.rims[name, "top"][0]
        turned = angle_between(normal, self.up[name])
        return turned if dot(normal, self.outer[name][0]) <= 0 else -turned

    def blank(self, name):
        """Of a board with flush ends: its sawn corners' extent and the allowances."""
        corners = [meet(face[name], self.outer[self.beside(name, end)], self.rims[name, rim])
                   for face in (self.outer, self.inner) for end in ("left", "right") for rim in ("bottom", "top")]
        spare = self.box.allowances
        extents = []
        for way in (ALONG[name], self.up[name], self.outer[name][0]):
            heights = [dot(corner, way) for corner in corners]
            extents.append(max(heights) - min(heights))
        return [extent + more for extent, more in
                zip(extents, (2 * spare.end, 2 * spare.edge, spare.thickness), strict=True)]


def near(text, true, unit):
    """Whether a printed length is the true one, to what can be read off a rule."""
    printed, half = (float(text.split()[0]), 0.05) if unit == "mm" else (read_length(text), HALF_INCHES[unit])
    assert text.endswith("mm" if unit == "mm" else "in") and (unit != DECIMAL or re.search(r"\.\d{3} in$", text))
    return abs(printed - float(true)) <= half + 1e-9
