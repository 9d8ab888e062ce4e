"""Which heading of a foreign list means which of our columns.

Synonyms stand in ``headings.csv``. A heading may carry its unit: ``Width (in)``, ``W [mm]``.
"""

from __future__ import annotations

import csv
import difflib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Final

from platewright.foundation.units import ALIASES
from platewright.jobfile.columns import columns_of
from platewright.model.device import Device
from platewright.model.part import Part
from platewright.model.wire import Wire

LIKENESS: Final = 0.85  # of two spellings, above which a slip of the pen is assumed
TOGETHER: Final = {"b": "width", "h": "height", "t": "depth"}  # as German lists head body sizes
_UNITS: Final = frozenset(word for words in ALIASES.values() for word in words)


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading of a foreign list that was understood."""

    index: int
    text: str
    column: str  # field of Device, Part or Wire, or one of the few of the import alone
    unit: str  # unit word in the heading, lower case; blank: none


def understand(
    texts: Sequence[str], list_name: str, kept: Mapping[str, str]
) -> tuple[Heading, ...]:
    """Return the headings understood, each column once; a kept map wins over guessing.

    ``list_name`` is ``devices`` or ``wires``; ``kept`` maps columns to headings.
    """
    ranked: list[tuple[float, int, str]] = []
    by_text = {text: column for column, text in kept.items()}
    for index, text in enumerate(texts):
        if text in by_text:
            ranked.append((2.0, index, by_text[text]))
        elif text:
            ranked += [(score, index, column) for column, score in _guesses(text, list_name)]
    ranked += _together(texts, list_name)
    found: dict[int, Heading] = {}
    columns: set[str] = set()
    for _, index, column in sorted(ranked, key=lambda each: (-each[0], each[1], each[2])):
        if index not in found and column not in columns:
            found[index] = Heading(index, texts[index], column, split_unit(texts[index])[1])
            columns.add(column)
    return tuple(found[index] for index in sorted(found))


def _together(texts: Sequence[str], list_name: str) -> list[tuple[float, int, str]]:
    """Return B, H and T as width, height and depth; one of them alone may mean anything."""
    letters = {split_unit(text)[0]: index for index, text in reversed(list(enumerate(texts)))}
    if list_name != "devices" or not TOGETHER.keys() <= letters.keys():
        return []
    return [(0.98, letters[letter], column) for letter, column in TOGETHER.items()]


def headings_for(list_name: str, column: str) -> tuple[str, ...]:
    """Return the headings that are understood as a column, as the table lists them."""
    return tuple(words for words, known in synonyms(list_name).items() if known == column)


def split_unit(text: str) -> tuple[str, str]:
    """Return a heading's words and its unit, both in plain lower case."""
    plain = text.strip().lower()
    bracket = re.fullmatch(r"(.*?)\s*[(\[]\s*([^)\]]+?)\s*[)\]]\s*", plain)
    if bracket:
        unit = bracket[2].replace(" ", "")
        return _words(bracket[1]), unit if unit in _UNITS or unit in ("awg", "mm²") else ""
    words = _words(plain)
    head, _, last = words.rpartition(" ")
    if head and last in _UNITS and len(last) > 1:
        return head, last
    return words, ""


@cache
def synonyms(list_name: str) -> Mapping[str, str]:
    """Return heading -> column for one kind of list."""
    text = (resources.files(__package__) / "headings.csv").read_text(encoding="utf-8")
    return {
        row["heading"]: row["column"]
        for row in csv.DictReader(text.splitlines())
        if row["list"] == list_name
    }


@cache
def _fields(list_name: str) -> frozenset[str]:
    """Return the names of our own columns, which every list may use."""
    records = (Wire,) if list_name == "wires" else (Device, Part)
    return frozenset(each.field for record in records for each in columns_of(record))


def _guesses(text: str, list_name: str) -> list[tuple[str, float]]:
    known = synonyms(list_name)
    full, (bare, _) = _words(text.lower()), split_unit(text)
    for words, score in ((full, 1.0), (bare, 0.99)):
        if words in known:
            return [(known[words], score)]
        field = words.replace(" ", "_")
        if field in known.values() or field in _fields(list_name):
            return [(field, score)]
    close = difflib.get_close_matches(bare, list(known), n=3, cutoff=LIKENESS)
    return [(known[word], difflib.SequenceMatcher(None, bare, word).ratio()) for word in close]


def _words(text: str) -> str:
    return " ".join(re.sub(r"[_\-./:#]+", " ", text).split())
