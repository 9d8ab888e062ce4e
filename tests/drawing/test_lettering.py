"""Lettering measured against the font's own tables, read by another library."""

import io

import pytest
from fontTools.ttLib import TTFont

from platewright.drawing.lettering import (
    BOLD,
    CAPITAL,
    REGULAR,
    font_bytes,
    has_glyph,
    runs,
    text_width,
    wrap,
)


@pytest.mark.parametrize(("name", "bold"), [(REGULAR, False), (BOLD, True)])
def test_widths_and_capital_height_are_those_of_the_font(name, bold):
    font = TTFont(io.BytesIO(font_bytes(name)))
    em = font["head"].unitsPerEm
    assert font["OS/2"].sCapHeight / em == pytest.approx(CAPITAL)
    words = "Bar 2: 1204.5 × D4 (→ µΩ)"
    cmap, hmtx = font.getBestCmap(), font["hmtx"]
    units = sum(hmtx[cmap[ord(char)]][0] for char in words)
    assert text_width(words, 2.5, bold=bold) == pytest.approx(units / em * 2.5 / CAPITAL)


def test_what_the_font_lacks_is_known():
    assert has_glyph("A")
    assert has_glyph("Ж")
    assert has_glyph("⌀")  # drawn as a shape
    assert not has_glyph("中")
    assert not has_glyph("\x07")


def test_runs_keep_every_character_in_order():
    assert list(runs("a⌀中b")) == [
        ("font", "a"),
        ("diameter", "⌀"),
        ("missing", "中"),
        ("font", "b"),
    ]
    assert list(runs("")) == []


def test_wrapped_lines_fit_and_lose_nothing():
    words = "control transformer 480/120 V with a very-long-word-that-does-not-fit-anywhere"
    lines = wrap(words, 20.0, 2.5)
    assert all(text_width(line, 2.5) <= 20.0 for line in lines)
    assert "".join(lines).replace(" ", "") == words.replace(" ", "")


def test_a_new_line_is_kept():
    assert wrap("one\ntwo", 100, 2.5) == ("one", "two")
