"""Widths of lettering in the drawings' font, and which characters the font has."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any, Final

from platewright.foundation.units import Mm, Ratio

FAMILY: Final = "Source Sans Pro"
REGULAR: Final = "SourceSansPro-Regular.ttf"
BOLD: Final = "SourceSansPro-Semibold.ttf"
CAPITAL: Final[Ratio] = 0.66  # height of a capital as a share of the font's size
DIAMETER: Final = "⌀"  # drawn as a shape: the font lacks it
DIAMETER_ADVANCE: Final[Ratio] = 0.78
BOX_ADVANCE: Final[Ratio] = 0.62  # a character the font lacks is drawn as a box this wide


def font_bytes(name: str) -> bytes:
    """Return a font file of the drawings' font."""
    return (files("font_source_sans_pro") / "files" / name).read_bytes()


@cache
def _font(name: str) -> Any:
    import uharfbuzz  # noqa: PLC0415  (slow to load; only drawing needs it)

    return uharfbuzz.Font(uharfbuzz.Face(uharfbuzz.Blob(font_bytes(name))))


@cache
def _advance(char: str, name: str) -> Ratio | None:
    font = _font(name)
    glyph = font.get_nominal_glyph(ord(char))
    if not glyph or not char.isprintable():
        return None
    return float(font.get_glyph_h_advance(glyph)) / float(font.face.upem)


def advance(char: str, *, bold: bool = False) -> Ratio:
    """Return how far a character moves the pen, as a share of the font's size."""
    if char == DIAMETER:
        return DIAMETER_ADVANCE
    width = _advance(char, BOLD if bold else REGULAR)
    return BOX_ADVANCE if width is None else width


def has_glyph(char: str) -> bool:
    """Tell whether a character can be drawn as itself."""
    return char == DIAMETER or _advance(char, REGULAR) is not None


@lru_cache(maxsize=65536)
def text_width(text: str, size: Mm, *, bold: bool = False) -> Mm:
    """Return the width of a line of lettering with capitals ``size`` high."""
    return sum(advance(char, bold=bold) for char in text) * size / CAPITAL


def runs(text: str) -> Iterator[tuple[str, str]]:
    """Split into runs of one kind: ``font``, ``diameter`` or ``missing``."""
    run, kind = "", ""
    for char in text:
        now = "diameter" if char == DIAMETER else "font" if has_glyph(char) else "missing"
        if run and now != kind:
            yield kind, run
            run = ""
        run, kind = run + char, now
    if run:
        yield kind, run


def wrap(text: str, width: Mm, size: Mm, *, bold: bool = False) -> tuple[str, ...]:
    """Break into lines no wider than ``width``: at blanks, else inside a word too long."""
    lines: list[str] = []
    for paragraph in text.split("\n"):
        line = ""
        for whole in paragraph.split(" "):
            word = whole
            trial = f"{line} {word}" if line else word
            if text_width(trial, size, bold=bold) <= width:
                line = trial
                continue
            if line:
                lines.append(line)
            while text_width(word, size, bold=bold) > width and len(word) > 1:
                fit = _fitting(word, width, size, bold=bold)
                lines.append(word[:fit])
                word = word[fit:]
            line = word
        lines.append(line)
    return tuple(lines)


def _fitting(word: str, width: Mm, size: Mm, *, bold: bool) -> int:
    fit = 1
    while fit < len(word) and text_width(word[: fit + 1], size, bold=bold) <= width:
        fit += 1
    return fit
