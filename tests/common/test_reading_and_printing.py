"""What people type and read: examples, round trips, exact fractions, error sentences and a fuzz."""

import math
import re
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from splaywork.common import printing, reading
from splaywork.common.printing import (
    DECIMAL,
    bevel_setting,
    degrees,
    degrees_minutes,
    enlarged_gap,
    fine,
    from_edge,
    gap,
    inches,
    intended,
    length,
    length_within,
    lengths,
    mm,
    offset,
    one_in,
    sixty_fourths,
    unit_name,
)
from splaywork.common.reading import BevelReading, read_angle, read_bevel, read_count, read_length, read_run

READERS = [read_angle, read_bevel, read_length, read_count, read_run]
PRINTERS = [degrees, from_edge, degrees_minutes, offset, one_in, mm, inches, length, fine, bevel_setting]
UNTIMED = settings(deadline=None)
LEAN = st.floats(-80, 80)
MILLIMETRES = st.floats(-3000, 3000)
WHOLE = st.integers(0, 400)
PROPER = st.tuples(st.integers(0, 63), st.integers(64, 128)).map(lambda pair: f"{pair[0]}/{pair[1]}")


def sentence_of(read, *given_values, **limits):
    with pytest.raises(ValueError) as caught:
        read(*given_values, **limits)
    assert caught.type is ValueError
    return str(caught.value)


# Reading


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12.5", 12.5), ("12.5°", 12.5), ("12 1/2", 12.5), ("12½", 12.5), ("12 ½°", 12.5), ("12-1/2", 12.5),
        ("12-½", 12.5), ("12°30'", 12.5), ("12° 30′", 12.5), ("12º30’", 12.5), ("−12°30′", -12.5),
        ("12 deg", 12), ("12 degrees", 12), ("12 deg 30 min", 12.5), ("12°30.5'", 12 + 30.5 / 60),
        ("12° 30' 15\"", 12 + 30 / 60 + 15 / 3600), ("12°30′15″", 12 + 30 / 60 + 15 / 3600),
        ("-5", -5), ("−5", -5), ("+5", 5), ("- 5", -5), (".5", 0.5), ("12.", 12), ("  7\t", 7), ("-0", 0),
        ("1/8°", 0.125), ("½°", 0.5), ("0 1/8", 0.125), ("１２.5", 12.5), ("١٢", 12),
        (5, 5), (-12.5, -12.5), (Fraction(1, 8), 0.125),
        ("12,5", 12.5), ("12٫5", 12.5), ("12,50°", 12.5), ("0,125", 0.125), (",5", 0.5), ("12,0625", 12.0625),
        ("12·5", 12.5), ("12·5°", 12.5), ("１２．５", 12.5), ("１２．５°", 12.5), ("—5", -5), ("– 5", -5), ("－５", -5),
        ("12°30", 12.5), ("12° 30", 12.5), ("−12°05", -12 - 5 / 60), ("12\u200b.5", 12.5), ("\ufeff12.5\u00ad°", 12.5),
        ("\u202a12.5\u202c", 12.5), ("12.5°\ufe0f", 12.5),
    ],
)  # fmt: skip
def test_an_angle_is_read(text, value):
    assert read_angle(text) == pytest.approx(value, abs=1e-13)


@pytest.mark.parametrize(
    ("text", "rise_to_run"),
    [
        ("1:8", 1 / 8), ("1 : 8", 1 / 8), ("1∶8", 1 / 8), ("1 in 8", 1 / 8), ("1 IN 8", 1 / 8),
        ("24.9 in 100", 0.249), ("24.9 over 100 mm", 0.249), ("24.9 mm in 100 mm", 0.249),
        ("5/8 in 3", 5 / 24), ("5/8 in in 3 in", 5 / 24), ('5/8" in 3"', 5 / 24), ("⅝ in 3", 5 / 24),
        ("2 1/2 over 10 in", 0.25), ("63/64″ in 4″", 63 / 256), ("24,9 mm in 100 mm", 0.249),
        ("-1:8", -1 / 8), ("−1 in 8", -1 / 8), ("1 in in 50.8 mm", 0.5),
        ("1 cm in 80 mm", 1 / 8), ("0:8", 0), ("1:1", 1), ("1:0.5", 2),
    ],
)  # fmt: skip
def test_a_slope_is_rise_to_run(text, rise_to_run):
    assert read_angle(text) == pytest.approx(math.degrees(math.atan(rise_to_run)), abs=1e-13)


@pytest.mark.parametrize(
    ("text", "value", "said"),
    [
        ("14", 14, "in degrees, taken from square"),
        (14, 14, "in degrees, taken from square"),
        ("14° from square", 14, "from square"),
        ("76° from the edge", 14, "from the edge"),
        ("76 from edge", 14, "from the edge"),
        ("75°30' From The Edge", 14.5, "from the edge"),
        ("104° from the edge", -14, "from the edge"),
        ("1:4", math.degrees(math.atan(0.25)), "as a slope"),
        ("1 in 4 from square", math.degrees(math.atan(0.25)), "from square"),
        ("28.7 over 100 mm", math.degrees(math.atan(0.287)), "as a slope"),
        ("−28.7 over 100 mm", -math.degrees(math.atan(0.287)), "as a slope"),
        ("2 31/64 over 10 in", math.degrees(math.atan(159 / 640)), "as a slope"),
    ],
)
def test_a_bevel_setting_is_read(text, value, said):
    reading = read_bevel(text)
    assert reading == BevelReading(pytest.approx(value, abs=1e-13), said)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("79 mm", 79), ("79mm", 79), ("79 MM", 79), ("7.9 cm", 79), ("0.079 m", 79), ("79", 79),
        ("3 1/8 in", 79.375), ('3-1/8"', 79.375), ("3⅛″", 79.375), ("3⅛", 3.125), ("1/64 in", 0.396875),
        ("1' 3 1/2\"", 393.7), ("1'-3 1/2\"", 393.7), ("1′3½″", 393.7), ("1 ft 3 in", 381), ("1'", 304.8),
        ("1''", 25.4), ("3 in.", 76.2), ("-1' 3\"", -381),
        ("1/3 in", 25.4 / 3), ("-3 1/8 in", -79.375), ("−79 mm", -79),
        (79, 79), (0.5, 0.5), ("７９ｍｍ", 79), ("79 ㎜", 79), ("７．９㎝", 7.9 * 10), ("79，5 mm", 79.5), ("79,5", 79.5),
        ("120 millimetres", 120), ("1 millimeter", 1), ("12 centimetres", 120), ("0.12 metres", 120), ("1 200 mm", 1200),
        ("1\u202f200 mm", 1200), ("1\u2009200\u00a0mm", 1200), ("12 345 678", 12345678), ("1 200,5 mm", 1200.5),
        ("1 200.5", 1200.5), ("3\u20091/8 in", 79.375), ("12 3/64 in", 12 * 25.4 + 25.4 * 3 / 64), ("79\u200bmm", 79),
    ],
)  # fmt: skip
def test_a_length_is_read_as_millimetres(text, value):
    assert read_length(text) == pytest.approx(value, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "value"), [("3⅛", 79.375), ("3", 76.2), (3, 76.2), ("79 mm", 79), ("1'", 304.8)]
)
def test_the_unit_is_for_bare_numbers_only(text, value):
    assert read_length(text, "in") == value


@pytest.mark.parametrize("zero", ["-0", "−0.0°", "-0:8", -0.0])
def test_no_reading_is_minus_zero(zero):
    assert math.copysign(1, read_angle(zero)) == 1
    assert math.copysign(1, read_bevel(zero).degrees_from_square) == 1


@pytest.mark.parametrize(("text", "value"), [("7", 7), ("7.0", 7), (" 0 ", 0), (7, 7), (7.0, 7), ("٧", 7)])
def test_a_count_is_read(text, value):
    assert read_count(text) == value
    assert type(read_count(text)) is int


@pytest.mark.parametrize(("text", "n"), [
    ("1 in 6", 6), ("1:6", 6), ("6", 6), ("7 1/2", 7.5), ("4.8", 4.8), (8, 8), ("45°", 1), ("5/8 in 3", 4.8),
    ("14.036243467926479°", 4)])
def test_a_slope_is_read_by_its_run(text, n):
    assert read_run(text) == pytest.approx(n, abs=1e-9)


@UNTIMED
@given(WHOLE, PROPER, st.sampled_from([" ", "-"]), st.sampled_from(["", "-"]))
def test_fractions_are_exact_until_one_conversion(whole, part, joint, sign):
    exact = (whole + Fraction(part)) * (-1 if sign else 1)
    assert read_length(f"{sign}{whole}{joint}{part} in") == float(exact * Fraction(254, 10))
    assert read_angle(f"{sign}{whole}{joint}{part}") == float(exact)


def test_one_character_fractions_agree_with_their_names():
    named = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8"}
    for character, part in named.items():
        assert read_length(f"3{character} in") == float((3 + Fraction(part)) * Fraction(254, 10))
        assert read_length(f"{character} in") == float(Fraction(part) * Fraction(254, 10))
    assert read_length("3⅟8") == 3.125


# What is wrong gets one sentence

WRONG = [
    (read_angle, "abc", "isn't an angle"),
    (read_angle, "", "nothing was typed"),
    (read_angle, " \t\n", "nothing was typed"),
    (read_length, "1,200 mm", "“1,200 mm” may have its comma between thousands; type 1.200 or 1200."),
    (read_length, "1,200.5", "has commas that can't be read"),
    (read_angle, "1,2,3", "has commas that can't be read"),
    (read_angle, "12,", "has commas that can't be read"),
    (read_angle, "12,5°30'", "part of one of its degrees"),
    (read_angle, "12°5", "isn't an angle"),
    (read_angle, "12°60", "60 minutes or more"),
    (read_length, "1 20 mm", "isn't a length"),
    (read_length, "3 1/8 in + 0.003", "isn't a length"),
    (read_angle, "9" * 61, "longer than 60"),
    (read_angle, "9" * 1_000_000, "longer than 60"),
    (read_angle, "1:0", "run of zero"),
    (read_angle, "0:0", "run of zero"),
    (read_angle, "1 1/0", "divides by zero"),
    (read_length, "1/0 in", "divides by zero"),
    (read_count, "1/0", "divides by zero"),
    (read_angle, "12 3/2", "one or more"),
    (read_angle, "12 2/2", "one or more"),
    (read_angle, "12°60'", "60 minutes or more"),
    (read_angle, "12°10'60\"", "60 seconds or more"),
    (read_angle, "12.5°10'", "part of one of its degrees"),
    (read_angle, "12°10.5'6\"", "part of one of its minutes"),
    (read_length, "1' 12\"", "12 inches or more"),
    (read_length, "1.5' 3\"", "part of one of its feet"),
    (read_angle, "1/8", "type 1:8 or 1/8°"),
    (read_angle, "-1/8", "type -1:8 or -1/8°"),
    (read_angle, "½", "type 1:2 or 1/2°"),
    (read_angle, "½5", "isn't an angle"),
    (read_angle, "12²", "isn't an angle"),
    (read_angle, "12 - 1/2", "isn't an angle"),
    (read_angle, "1e5", "isn't an angle"),
    (read_angle, "1_0", "isn't an angle"),
    (read_angle, "nan", "isn't an angle"),
    (read_angle, "inf", "isn't an angle"),
    (read_angle, "+-5", "isn't an angle"),
    (read_angle, "1:-8", "isn't an angle"),
    (read_angle, "\u200b", r"“\u200b” isn't an angle"),
    (read_angle, "12\u200bx", r"“12\u200bx” isn't an angle"),
    (read_angle, "\ud800", r"“\ud800” isn't an angle"),
    (read_angle, "__import__('os')", "isn't an angle"),
    (read_angle, "76° from the edge", "isn't an angle"),
    (read_angle, "79 mm", "is a length; type, for example, "),
    (read_angle, "3 1/8 in", "is a length; type, for example, "),
    (read_angle, "5'", "is a length; type, for example, "),
    (read_bevel, "79 mm from the edge", "is a length; type, for example, "),
    (read_bevel, "44.5 mm", "is a length; type, for example, "),
    (read_bevel, "44.5/100", "or 20 mm in 100 mm"),
    (read_length, "12°", "is an angle; type, for example, "),
    (read_length, "12 deg 30 min", "is an angle; type, for example, "),
    (read_length, "1:8", "is a slope; type, for example, "),
    (read_length, "1 in 8", "is a slope; type, for example, "),
    (read_length, "5 kg", "isn't a length"),
    (read_run, "0", "isn't a slope; type, for example, 1 in 6"),
    (read_run, "-1 in 6", "isn't a slope"),
    (read_run, "90°", "isn't a slope"),
    (read_run, 0, "isn't a slope"),
    (read_run, "6 mm", "is a length; type, for example, "),
    (read_count, "7.5", "isn't whole"),
    (read_count, 7.5, "“7.5” isn't whole"),
    (read_count, "7 mm", "is a length; type, for example, "),
    (read_count, "7 in", "is a length; type, for example, "),
    (read_count, "7°", "is an angle; type, for example, "),
    (read_count, "seven", "isn't a whole number"),
    (read_angle, math.nan, "isn't a finite number"),
    (read_length, -math.inf, "isn't a finite number"),
    (read_angle, None, "the NoneType given isn't a finite number"),
    (read_angle, True, "the bool given isn't a finite number"),
    (read_angle, b"12", "the bytes given isn't a finite number"),
    (read_angle, bytearray(b"12"), "the bytearray given isn't a finite number"),
    (read_angle, [12], "the list given isn't a finite number"),
    (read_count, 10**400, "the int given is too large"),
]


def assert_one_sentence(sentence):
    without_quotes = re.sub("“.*”", "“”", sentence)
    assert "\n" not in sentence
    assert sentence.isprintable()
    assert len(sentence) < 250
    assert sentence.endswith(".")
    assert not re.search(r"[.!?] ", without_quotes)


@pytest.mark.parametrize(("read", "text", "says"), WRONG)
def test_a_wrong_text_gets_one_sentence_with_an_example(read, text, says):
    sentence = sentence_of(read, text, name="tail lean")
    assert_one_sentence(sentence)
    assert sentence.startswith("tail lean: ")
    assert says in sentence
    assert sentence.removeprefix("tail lean: ") == sentence_of(read, text)
    examples = re.fullmatch(r".*; type(?:, for example,)? (.*)\.", sentence)[1]
    for offered in re.split(", | or ", examples):
        read(offered)


def test_a_number_in_inches_past_all_floats_is_too_large():
    assert "“1e+308” is too large; type, for example, 79 mm" in sentence_of(read_length, 1e308, "in")


def test_a_long_text_is_repeated_in_part():
    sentence = sentence_of(read_angle, "x" * 45)
    assert "“" + "x" * 30 + "…”" in sentence
    assert "“" + "x" * 30 + "”" in sentence_of(read_angle, "x" * 30)
    assert read_angle("0" * 58 + "12") == 12


@pytest.mark.parametrize(
    ("read", "text", "limits", "sentence"),
    [
        (read_angle, "50", {"low": -45, "high": 45, "name": "tail lean"},
         "tail lean must be between −45° and 45°, and “50” reads as 50°."),
        (read_angle, "1:0.5", {"high": 45, "name": "tail lean"},
         "tail lean must be at most 45°, and “1:0.5” reads as 63.4349488229°."),
        (read_angle, -1, {"low": 0}, "the angle must be at least 0°, and “−1” reads as −1°."),
        (read_bevel, "140° from the edge", {"low": -45, "high": 45, "name": "pin end line"},
         "pin end line must be between −45° and 45°, and “140° from the edge” reads as −50°."),
        (read_length, "30", {"low": 50, "high": 600, "name": "height"},
         "height must be between 50 mm and 600 mm, and “30” reads as 30 mm."),
        (read_length, "30", {"unit": "in", "low": 50.8, "high": 609.6, "name": "height"},
         "height must be between 2 in and 24 in, and “30” reads as 30 in."),
        (read_count, "0", {"low": 1, "high": 9, "name": "tails"},
         "tails must be between 1 and 9, and “0” reads as 0."),
        (read_count, "-1", {}, "the count must be at least 0, and “-1” reads as −1."),
    ],
)  # fmt: skip
def test_out_of_bounds_names_the_input_the_reading_and_the_limits(read, text, limits, sentence):
    assert_one_sentence(sentence)
    assert sentence_of(read, text, **limits) == sentence


def test_the_limits_themselves_are_allowed():
    assert read_angle("45", -45, 45) == 45
    assert read_angle("1:1", -45, 45) == 45
    assert read_angle("-45", -45, 45) == -45
    assert read_bevel("45 from the edge", -45, 45).degrees_from_square == 45
    assert read_length("1'", low=304.8, high=304.8) == 304.8
    assert read_count("9", 1, 9) == 9


@pytest.mark.parametrize(("call", "unit"), [(read_length, "cm"), (length, "ft"), (offset, None)])
def test_an_unknown_unit_is_a_value_error(call, unit):
    sentence = sentence_of(call, 3, unit)
    assert_one_sentence(sentence)
    assert "unit can be 'mm', 'in' or '0.001 in', not" in sentence


# Printing


@pytest.mark.parametrize(
    ("printer", "values", "text"),
    [
        (degrees, [14], "14.0°"),
        (degrees, [-14.26], "−14.3°"),
        (degrees, [-0.04], "0.0°"),
        (degrees, [13.9509, 2], "13.95°"),
        (intended, [16], "16°"),
        (intended, [-12.25], "−12.25°"),
        (intended, [-0.0], "0°"),
        (intended, [26.565], "26.6°"),
        (intended, [26.98 + 1e-6], "27.0°"),
        (intended, [30 + 1e-12], "30°"),
        (from_edge, [14], "76.0° from the edge"),
        (from_edge, [-14], "104.0° from the edge"),
        (from_edge, [90.01], "0.0° from the edge"),
        (degrees_minutes, [13.95], "13°57′"),
        (degrees_minutes, [13.9999], "14°00′"),
        (degrees_minutes, [-0.5], "−0°30′"),
        (degrees_minutes, [-0.001], "0°00′"),
        (offset, [13.983], "24.9 mm in 100 mm"),
        (offset, [5 / 60, "mm", 3], "0.145 mm in 100 mm"),
        (offset, [-13.983], "−24.9 mm in 100 mm"),
        (offset, [-1e-9], "0.0 mm in 100 mm"),
        (offset, [13.85, "in"], "63/64″ in 4″"),
        (offset, [-14.036, "in"], "−1″ in 4″"),
        (offset, [0, "in"], "0″ in 4″"),
        (offset, [45, "in"], "4″ in 4″"),
        (offset, [17, "in"], "1 7/32″ in 4″"),
        (one_in, [14.036], "1 in 4.0"),
        (one_in, [-14.036], "−1 in 4.0"),
        (one_in, [0], "square (no slope)"),
        (one_in, [-1e-9], "square (no slope)"),
        (one_in, [5e-324], "square (no slope)"),
        (one_in, [60], "1 in 0.58"),
        (one_in, [89], "1 in 0.017"),
        (mm, [79.375], "79.4 mm"),
        (mm, [-79.375, 2], "−79.38 mm"),
        (mm, [-0.01], "0.0 mm"),
        (inches, [79.375], "3 1/8 in"),
        (inches, [79.45], "3 1/8 in"),
        (inches, [-79.45], "−3 1/8 in"),
        (inches, [0.396875], "1/64 in"),
        (inches, [25.3999], "1 in"),
        (inches, [0], "0 in"),
        (inches, [-0.05], "0 in"),
        (lengths, [[420, 79.375]], "420.0 × 79.4 mm"),
        (lengths, [[420, 79.375], "in"], "16 17/32 × 3 1/8 in"),
        (length, [79.375, "mm"], "79.4 mm"),
        (length, [79.375, "in"], "3 1/8 in"),
        (bevel_setting, [13.93], "76.1° from the edge (24.8 mm in 100 mm)"),
        (bevel_setting, [13.93, "in"], "76.1° from the edge (63/64″ in 4″)"),
    ],
)
def test_numbers_are_printed(printer, values, text):
    assert printer(*values) == text


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, "12", None, True, 10**400, 1j])
@pytest.mark.parametrize("printer", PRINTERS)
def test_what_is_no_finite_number_is_not_printed(printer, value):
    assert_one_sentence(sentence_of(printer, value))


@pytest.mark.parametrize("value", [90, -90, 135])
@pytest.mark.parametrize("printer", [offset, one_in, bevel_setting])
def test_a_line_along_the_edge_has_no_offset(printer, value):
    assert "angle of a line from square" in sentence_of(printer, value)


@UNTIMED
@given(st.floats(allow_nan=False, allow_infinity=False))
@example(-0.0)
@example(1.7e308)
def test_any_finite_number_prints_without_a_minus_zero(value):
    for printer in PRINTERS:
        if printer in (offset, one_in, bevel_setting) and abs(value) >= 90:
            continue
        printed = str(printer(value))
        assert "-" not in printed
        assert not printed.startswith(("−0 ", "−0°00"))
        assert not re.match(r"−0\.0+(?![0-9])", printed)


# Printed, then read again


@UNTIMED
@given(LEAN, st.integers(0, 6))
def test_degrees_come_back(lean, places):
    half = 0.5 * 10**-places + 1e-9
    assert read_angle(degrees(lean, places)) == pytest.approx(lean, abs=half)
    reading = read_bevel(from_edge(lean, places))
    assert reading.degrees_from_square == pytest.approx(lean, abs=half)
    assert reading.said == "from the edge"


@UNTIMED
@given(LEAN)
def test_minutes_come_back(lean):
    assert read_angle(degrees_minutes(lean)) == pytest.approx(lean, abs=0.5 / 60 + 1e-9)


@UNTIMED
@given(LEAN, st.integers(1, 4))
def test_an_offset_comes_back(lean, places):
    slope = math.tan(math.radians(lean))
    over_100 = 100 * math.tan(math.radians(read_angle(offset(lean, places=places))))
    assert over_100 == pytest.approx(100 * slope, abs=0.5 * 10**-places + 1e-9)
    over_4_in = 4 * math.tan(math.radians(read_angle(offset(lean, "in"))))
    assert over_4_in == pytest.approx(4 * slope, abs=1 / 128 + 1e-9)


@UNTIMED
@given(LEAN.filter(lambda lean: abs(lean) > 0.01))
def test_one_in_n_comes_back(lean):
    run = 1 / math.tan(math.radians(lean))
    again = 1 / math.tan(math.radians(read_angle(one_in(lean))))
    assert again == pytest.approx(run, abs=0.05 + 1e-9)


@UNTIMED
@given(MILLIMETRES, st.integers(0, 6))
def test_millimetres_come_back(size, places):
    assert read_length(mm(size, places)) == pytest.approx(size, abs=0.5 * 10**-places + 1e-9)


@UNTIMED
@given(MILLIMETRES)
def test_inches_come_back_to_the_nearest_64th(size):
    assert read_length(inches(size)) == pytest.approx(size, abs=25.4 / 128 + 1e-9)
    assert abs(sixty_fourths(size) - Fraction(size) * 10 / 254) <= Fraction(1, 128)
    assert 64 % sixty_fourths(size).denominator == 0


@UNTIMED
@given(st.integers(-10_000, 10_000))
def test_every_64th_is_written_exactly_and_comes_back_exactly(count):
    size = float(Fraction(count, 64) * Fraction(254, 10))
    assert sixty_fourths(size) == Fraction(count, 64)
    assert read_length(inches(size)) == size


# Published values: the source, and how it was come by, stands beside each


def test_published_slope_5_8_in_3():
    # D1, seen: W. Noyes, Handwork in Wood (1910), joint no. 48, pp. 165-167: 5/8 in 3, "approximately 80°"
    slope = read_angle("5/8 in 3")
    assert slope == pytest.approx(read_angle("1:4.8"), abs=1e-13)
    assert degrees(slope, 2) == "11.77°"
    assert from_edge(slope, 2) == "78.23° from the edge"
    assert round(90 - slope, -1) == 80


def test_published_slope_1_in_4():
    # D2, seen: G. A. Ross, Elementary Course in Woodwork: 1 in 4
    assert degrees(read_angle("1 in 4"), 3) == "14.036°"
    assert one_in(read_angle("1 in 4")) == "1 in 4.0"


@pytest.mark.parametrize(("text", "shown", "exact"), [("1:6", "9.46°", 9.4623), ("1:8", "7.13°", 7.1250)])
def test_customary_slopes(text, shown, exact):
    # D3, common practice, no source (from memory): 1:6 softwood, 1:8 hardwood; a choice, not a rule
    assert degrees(read_angle(text), 2) == shown
    assert read_angle(text) == pytest.approx(exact, abs=5e-5)


def test_a_vernier_protractor_reads_to_5_minutes():
    # V1, seen: US Army subcourse OD1642: a vernier bevel protractor reads to 5 minutes
    step = read_angle("0°5′")
    assert degrees(step, 4) == "0.0833°"
    assert offset(step, places=3) == "0.145 mm in 100 mm"
    assert degrees_minutes(step) == "0°05′"


# Anything at all may be typed

PIECES = st.sampled_from(
    [*"0123456789 .-−+/:°'\"′″,½⅛⅟⁄²٣１e_", " in ", " from the edge", " from square",
     "in", "mm", "cm", "m", "ft", "deg", "over", "nan", "inf"]
)
ODD = st.one_of(
    st.text(max_size=80),
    st.lists(PIECES, max_size=14).map("".join),
    st.none() | st.booleans() | st.integers() | st.floats() | st.complex_numbers() | st.fractions(),
    st.binary() | st.lists(st.integers()) | st.dictionaries(st.text(), st.none()) | st.decimals(),
)


@pytest.mark.parametrize("read", READERS)
@settings(UNTIMED, max_examples=400)
@given(ODD)
def test_whatever_is_typed_is_a_finite_number_or_one_sentence(read, text):
    try:
        value = read(text, name="tail lean")
    except ValueError as error:
        assert type(error) is ValueError
        assert_one_sentence(str(error))
        assert str(error).startswith("tail lean")
    else:
        number = value.degrees_from_square if read is read_bevel else value
        assert math.isfinite(number)
        assert type(number) is (int if read is read_count else float)


@UNTIMED
@given(st.text("1 /.-in\"'°:", min_size=30, max_size=60))
def test_long_texts_near_the_grammar_end_in_an_answer(text):
    for read in READERS:
        try:
            read(text)
        except ValueError as error:
            assert_one_sentence(str(error))


def test_gaps_are_written_finer_than_a_rule():
    assert [fine(x, unit) for x in (0.274, -0.2, 3) for unit in ("mm", "in")] == [
        "0.27 mm", "0.011 in", "−0.20 mm", "−0.008 in", "3.00 mm", "0.118 in"]
    with pytest.raises(ValueError, match="number to print must be a number, not 'wide'"):
        fine("wide")
    with pytest.raises(ValueError):
        fine(1, "cm")


@given(x=st.floats(0, 500), unit=st.sampled_from(["mm", "in", DECIMAL]))
@example(x=24.37, unit="mm")
@example(x=24.4, unit="mm")
def test_a_limit_of_a_length_is_never_rounded_up(x, unit):
    """What is written is at most `x`, by less than one step."""
    step = {"mm": 0.1, "in": 25.4 / 64, DECIMAL: 0.0254}[unit]
    whole, _, part = length_within(x, unit).rpartition(" ")[0].rpartition(" ")
    written = float(sum(map(Fraction, filter(None, (whole, part))))) * (1 if unit == "mm" else 25.4)
    assert x - step - 1e-5 < written <= x + 1e-5


def test_beside_a_lens_a_gap_is_written_finer():
    """Wide and narrow of the lens's bar can be told apart; in inches, and from 0.25 mm on, as everywhere."""
    assert [enlarged_gap(x) for x in (0.124, 0.093, 0.2449, 0.25, 0.9, 7.1, 0, 0.003)] == [
        "0.12 mm", "0.09 mm", "0.24 mm", "0.25 mm", "0.90 mm", "7.1 mm", "0.00 mm", "less than 0.01 mm"]
    assert enlarged_gap(0.124, "in") == gap(0.124, "in") == "0.005 in"


def test_nothing_typed_is_ever_evaluated():
    for module in (reading, printing):
        with open(module.__file__, encoding="utf-8") as source:
            code = source.read()
        assert not re.search(r"\b(eval|exec|sympify|literal_eval|__import__|sympy)\b", code)


@given(st.floats(-1e5, 1e5))
def test_decimal_inches_are_read_back_to_half_a_thousandth(size):
    said = length(size, DECIMAL)
    assert re.fullmatch(r"−?\d+\.\d{3} in", said) and "/" not in said
    assert abs(read_length(said, DECIMAL) - size) <= 0.0005 * 25.4 + 1e-9
    assert read_length(said.removesuffix(" in"), DECIMAL) == read_length(said, "mm")


def test_decimal_inches_of_known_lengths():
    assert length(25.4, DECIMAL) == "1.000 in" and lengths((25.4, 12.7), DECIMAL) == "1.000 × 0.500 in"
    assert offset(45, DECIMAL) == "4.000″ in 4″" and unit_name(DECIMAL) == "in"
    with pytest.raises(ValueError, match=r"between 0\.236 in and 1\.575 in"):
        read_length("2.5", DECIMAL, 6, 40, "Thickness")
