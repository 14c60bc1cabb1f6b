"""A corner said in words and numbers, for the sentence under a picture and for those who can't see it."""

from textwrap import fill

from ..common.printing import bevel_setting, degrees

SAME = 0.005  # degrees: two settings closer than this are one and the same on any gauge


def lean_words(lean):
    """"leaning out 14.0°", "leaning in 6.0°" or "upright", for a lean in degrees."""
    if abs(lean) < SAME:
        return "upright"
    return f"leaning {'out' if lean > 0 else 'in'} {degrees(abs(lean))}"


def how_far_off(end_line, struck):
    """How a struck line misses the true end line: "exact", or "0.18° too steep"; both in degrees from square."""
    if abs(struck - end_line) < SAME:
        return "exact"
    if struck * end_line < 0:
        return f"{degrees(abs(struck - end_line), 2)} off, the wrong way"
    return f"{degrees(abs(struck - end_line), 2)} too {'steep' if abs(struck) > abs(end_line) else 'shallow'}"


def from_square(angle):
    """"square", or "5.8° from square", for a line at `angle` degrees from square."""
    return "square" if abs(angle) < SAME else f"{degrees(angle)} from square"


def corner_words(corner):
    """One sentence: the leans, the two end lines, and how the one-gauge shortcut would miss them (scalar corner)."""
    tail, pin = corner.tail_end_line, corner.pin_end_line
    leans = lean_words(corner.tail_lean), lean_words(corner.pin_lean)
    stand = f"both boards {leans[0]}" if leans[0] == leans[1] else f"the tail board {leans[0]}, the pin board {leans[1]}"
    plan = "" if corner.plan_angle == 90 else f" at a plan angle of {degrees(corner.plan_angle)}"
    lines = f"the tail board's end line is {from_square(tail)} and the pin board's {from_square(pin)}"
    misses = how_far_off(tail, corner.pin_lean), how_far_off(pin, corner.tail_lean)
    if misses == ("exact", "exact"):
        shortcut = "a gauge set to the other board's lean strikes both exactly"
    else:
        shortcut = (f"a gauge set to the other board's lean would be {misses[0]} on the tail board and "
                    f"{misses[1]} on the pin board")
    return f"With {stand}{plan}, {lines}; {shortcut}."


def setting_words(angle, unit="mm"):
    """A gauge setting for a line at `angle` from square: "square", or degrees from square, from the edge, and rise.

    The edge is the one that makes the smaller angle, so a line that slants the other way has the same setting.
    """
    if abs(angle) < SAME:
        return "square"
    way = "longer at the top" if angle > 0 else "shorter at the top"
    return f"{degrees(abs(angle))} from square, {bevel_setting(abs(angle), unit)}, {way}"


def settings_words(corner, unit="mm"):
    """Every setting of a scalar corner, a line each, rises in `unit` ("mm" or "in")."""
    rows = [
        ("end line, tail board", setting_words(corner.tail_end_line, unit)),
        ("end line, pin board", setting_words(corner.pin_end_line, unit)),
        ("end bevel", from_square(corner.end_bevel)),
        ("rim bevel, tail board", from_square(corner.tail_rim_bevel)),
        ("rim bevel, pin board", from_square(corner.pin_rim_bevel)),
        ("level, flush tail end", from_square(corner.level_on_flush_end)),
        ("level, square tail end", from_square(corner.level_on_square_end)),
    ]
    return "\n".join(f"{name:<24}{value}" for name, value in rows)


def capital(text):
    """The text with a capital at its start."""
    return f"{text[:1].upper()}{text[1:]}"


def series(words):
    """"a", "a and b", "a, b and c"."""
    *first, last = words
    return f"{', '.join(first)} and {last}" if first else last


def listed(sentences):
    """Sentences one under another, as a list wrapped for a page."""
    return "\n".join(fill(sentence, 100, initial_indent="* ", subsequent_indent="  ") for sentence in sentences)
