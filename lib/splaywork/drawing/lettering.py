"""How wide letters are on paper, how lines of them follow one another, and how a text is broken into lines."""

from functools import lru_cache

from matplotlib.font_manager import FontProperties, findfont, get_font
from matplotlib.textpath import text_to_path

INCH = 25.4  # mm
FONT = "DejaVu Sans"  # comes with matplotlib
TITLE, NOTE, KEY = 11.0, 8.0, 7.5  # points
LEADING = 1.32  # of the letters' size, from line to line


@lru_cache(maxsize=4096)
def _word_width(word, weight):
    """Width of a word, or of what stands between two, in sizes of its letters."""
    font = FontProperties(family=FONT, size=100, weight=weight)
    return text_to_path.get_text_width_height_descent(word, font, False)[0] / 100


def width_of(text: str, size: float, weight: str = "normal") -> float:
    """Width in mm of a text in letters of `size` points."""
    words = text.split(" ")
    sizes = sum(_word_width(word, weight) for word in words) + (len(words) - 1) * _word_width(" ", weight)
    return sizes * size * INCH / 72


@lru_cache(maxsize=1)
def letters() -> frozenset[str]:
    """Every character that sheets can be written with."""
    return frozenset(map(chr, get_font(findfont(FontProperties(family=FONT))).get_charmap()))


def height_of(size: float) -> float:
    """mm from one line of letters of `size` points to the next."""
    return size * LEADING * INCH / 72


def wrapped(text: str, size: float, width: float, weight: str = "normal") -> list:
    """The text as lines no wider than `width` mm; a word wider than that is broken."""
    return list(_lines(text, size, width, weight))


@lru_cache(maxsize=4096)  # whoever looks for letters that fit a page asks again and again
def wrapped_parts(parts: tuple[tuple[str, str], ...], size: float, width: float) -> tuple:
    """A text of several weights, as (words, weight), in lines no wider than `width` mm.

    Each line is a tuple of its parts as (words, weight, how far from the line's beginning in mm). No word is broken.
    """
    lines: list[list] = [[]]
    scale, wide = size * INCH / 72, 0.0
    for text, weight in parts:
        for word in text.split():
            own, gap = _word_width(word, weight), _word_width(" ", weight)
            if lines[-1] and (wide + gap + own) * scale > width:
                lines.append([])
            line = lines[-1]
            start = wide + gap if line else 0.0
            if line and line[-1][1] == weight:
                line[-1] = (f"{line[-1][0]} {word}", *line[-1][1:])
            else:
                line.append((word, weight, start * scale))
            wide = start + own
    return tuple(map(tuple, filter(None, lines)))


@lru_cache(maxsize=4096)
def _lines(text, size, width, weight):
    lines, wide, words, space = [""], 0.0, 0, _word_width(" ", weight)
    for word in text.split():
        longer = wide + _word_width(word, weight)  # of the words of the line, as `width_of` adds them up
        if (longer + words * space) * size * INCH / 72 <= width:
            lines[-1], wide, words = f"{lines[-1]} {word}".strip(), longer, words + 1
            continue
        lines, wide, words = [*lines, ""], _word_width(word, weight), 1
        if wide * size * INCH / 72 <= width:
            lines[-1] = word
            continue
        for letter in word:
            if lines[-1] and width_of(lines[-1] + letter, size, weight) > width:
                lines.append("")
            lines[-1] += letter
        wide = _word_width(lines[-1], weight)
    return tuple(line for line in lines if line)
