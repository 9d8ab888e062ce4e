"""Numbers against published conversion factors: NIST SP 811 (2008), appendix B.8.

1 in = 25.4 mm and 1 lb = 0.453 592 37 kg exactly; 1 lbf·in = 0.112 984 8 N·m;
t/°C = (t/°F - 32)/1.8.
"""

import pytest

from platewright.foundation.units import ALIASES
from platewright.jobfile.quantities import (
    Unreadable,
    read_end,
    read_names,
    read_number,
    read_yes_no,
    shows_decimal_comma,
    written_names,
)
from platewright.model.wire import End


@pytest.mark.parametrize(
    ("text", "suffix", "expected"),
    [
        ("120", "mm", 120.0),
        ("120 mm", "mm", 120.0),
        ("4.5 in", "mm", 114.3),
        ("4.5in", "mm", 114.3),
        ('1-3/8"', "mm", 34.925),
        ("1 3/8 in", "mm", 34.925),
        ('3/8"', "mm", 9.525),
        ("3/8 inch", "mm", 9.525),
        ("3/8 in.", "mm", 9.525),
        ("1½ in", "mm", 38.1),
        ("½″", "mm", 12.7),
        ("2 ft", "mm", 609.6),
        ("-3/4 in", "mm", -19.05),
        ("-1-1/2 in", "mm", -38.1),
        ("−5", "mm", -5.0),
        ("1.2 m", "mm", 1200.0),
        ("20 lb-in", "nm", 2.25970),
        ("2 lb", "kg", 0.907185),
        ("500 g", "kg", 0.5),
        ("104 °F", "degc", 40.0),
        ("-40 degF", "degc", -40.0),
        ("50 %", "share", 0.5),
        ("0.07 kW", "w", 70.0),
        ("1e3", "mm", 1000.0),
        ("0", "mm", 0.0),
    ],
)
def test_numbers_with_their_units(text: str, suffix: str, expected: float) -> None:
    # 5e-6 relative: the program rounds 1 lbf·in to 0.112985 N·m
    assert read_number(text, suffix) == pytest.approx(expected, rel=5e-6, abs=1e-6)


def test_unit_of_the_heading_counts_unless_the_cell_names_one() -> None:
    inch = ALIASES["mm"]["in"]
    assert read_number("2", "mm", heading=inch) == 50.8
    assert read_number("3/8", "mm", heading=inch) == 9.525
    assert read_number("60 mm", "mm", heading=inch) == 60.0


def test_zero_has_no_sign() -> None:
    assert str(read_number("-0", "mm")) == "0.0"


def test_decimal_comma_only_when_the_file_has_it() -> None:
    assert read_number("12,5", "mm", comma=True) == 12.5
    assert read_number("12,5 mm", "mm", comma=True) == 12.5
    assert read_number("12.5", "mm", comma=True) == 12.5
    for text, comma in (("12,5", False), ("1,200", False), ("1.200", True), ("1,2,3", True)):
        with pytest.raises(Unreadable):
            read_number(text, "mm", comma=comma)


def test_what_shows_a_decimal_comma() -> None:
    assert shows_decimal_comma("12,5")
    assert shows_decimal_comma("0,25 kg")
    assert not shows_decimal_comma("1,200")
    assert not shows_decimal_comma("12.5")


@pytest.mark.parametrize(
    "text",
    ["", "x", "3/8", "1/0 in", "nan", "inf", "-inf", "1e999", "5 kg", "5 parsec", "1.2.3", "1 2"],
)
def test_what_is_no_length(text: str) -> None:
    with pytest.raises(Unreadable) as caught:
        read_number(text, "mm")
    assert caught.value.cure


def test_plain_numbers_take_no_unit() -> None:
    assert read_number("2.5", None) == 2.5
    with pytest.raises(Unreadable, match="behind the number"):
        read_number("2.5 mm", None)


def test_names_and_ranges() -> None:
    assert read_names("1 3  5") == ("1", "3", "5")
    assert read_names("1..4") == ("1", "2", "3", "4")
    assert read_names("L+ I0..I2 N1..3") == ("L+", "I0", "I1", "I2", "N1", "N2", "N3")
    assert read_names("01..03") == ("01", "02", "03")
    assert read_names("") == ()
    for text in ("1 1", "1..3 2", "3..1", "A..C", "I1..Q3", "1..5000"):
        with pytest.raises(Unreadable):
            read_names(text)


def test_names_are_written_as_they_are_read() -> None:
    assert written_names(("1", "2", "3", "4")) == "1..4"
    assert written_names(("1", "2", "3")) == "1 2 3"
    assert written_names(("I8", "I9", "I10", "I11", "Q1")) == "I8..I11 Q1"


def test_ends_divide_at_the_last_colon() -> None:
    assert read_end("-Q1:2") == End("-Q1", "2")
    assert read_end(" =A:-Q1 : L1 ") == End("=A:-Q1", "L1")
    assert read_end("-T2:−") == End("-T2", "−")
    for text in ("-Q1", "-Q1:", ":2", "-Q1:1 2"):
        with pytest.raises(Unreadable):
            read_end(text)


def test_yes_and_no() -> None:
    assert [read_yes_no(word) for word in ("yes", "X", "no", "")] == [True, True, False, False]
    with pytest.raises(Unreadable):
        read_yes_no("perhaps")
