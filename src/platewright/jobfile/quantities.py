"""One cell of text -> one value: numbers with their units, yes/no, names, wire ends.

Everything is read strictly: what could mean two things is a fault, never a guess.
"""

from __future__ import annotations

import math
import re
import unicodedata
from typing import Final

from platewright.foundation.errors import nearest
from platewright.foundation.units import ALIASES, Alias
from platewright.model.wire import End


class Unreadable(ValueError):  # noqa: N818 (a fault in the making, not an error of the program)
    """A cell that can't be read. Always caught by the reader, which adds file, row and field."""

    def __init__(self, problem: str, cure: str) -> None:
        super().__init__(problem)
        self.problem = problem
        self.cure = cure


LONGEST_RANGE: Final = 1000  # terminals one range may name; more is a slip of the pen

_NUMBER: Final = re.compile(
    r"""(?P<sign>[+-]?)\s*
    (?:(?P<whole>\d+)[\s-]+(?P<above>\d+)/(?P<below>\d+)  # 1-3/8
      |(?P<over>\d+)/(?P<under>\d+)                        # 3/8
      |(?P<decimal>(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?))
    \s*(?P<unit>[^\d\s.,/+-].*)?""",
    re.VERBOSE,
)
_THREE_BEHIND_COMMA: Final = re.compile(r"[+-]?\d{1,3}(?:,\d{3})+(?![\d,])")
_COMMA: Final = re.compile(r"(?<=\d),(?=\d)")
_RANGE: Final = re.compile(r"(?P<stem>.*?)(?P<first>\d+)\.\.(?P<same>.*?)(?P<last>\d+)")
_LOOKALIKES: Final = str.maketrans(
    {"−": "-", "–": "-", "″": '"', "”": '"', "“": '"', "\u00a0": " ", "\u202f": " ", "\u2009": " "}
)


def plain_characters(text: str) -> str:
    """Return text with look-alike signs, marks, spaces and fractions (½) as keyboard characters."""
    spelt = "".join(
        f" {unicodedata.normalize('NFKC', sign).replace('⁄', '/')}"
        if unicodedata.decomposition(sign).startswith("<fraction>")
        else sign
        for sign in text
    )
    return spelt.translate(_LOOKALIKES).replace("''", '"').strip()


def shows_decimal_comma(text: str) -> bool:
    """Tell whether a number is surely written with a decimal comma (``12,5``, not ``1,200``)."""
    spelt = plain_characters(text)
    return bool(re.match(r"[+-]?\d+,\d+(?![\d,.])", spelt)) and not _THREE_BEHIND_COMMA.match(spelt)


def read_number(
    text: str, suffix: str | None, *, heading: Alias | None = None, comma: bool = False
) -> float:
    """Return a number in the inside unit.

    ``suffix`` is the inside unit's suffix (``mm``), ``heading`` the unit that the heading names
    when it is another (``width_in``), ``comma`` whether the file writes decimal commas. A unit
    behind the number wins over the heading's.
    """
    spelt = _with_point(plain_characters(text), comma=comma)
    found = _NUMBER.fullmatch(spelt)
    if found is None:
        raise Unreadable("is not a number", "Write a plain number such as 12.5")
    value = _magnitude(found)
    word = (found["unit"] or "").strip()
    alias = _unit(word, suffix) if word else heading
    if found["decimal"] is None and alias is None:
        if suffix == "mm":
            raise Unreadable(
                "is a fraction without a unit", f'Write the inch mark behind it: {spelt}"'
            )
        raise Unreadable("is a fraction without a unit", "Write it as a decimal number")
    if alias is not None and (alias.factor, alias.offset) != (1.0, 0.0):
        value = round(value * alias.factor + alias.offset, 6)  # 1e-6 mm: no dust from converting
    if not math.isfinite(value):
        raise Unreadable("is too large a number", "Correct it")
    return value + 0.0  # no -0


def read_yes_no(text: str) -> bool:
    """Return the truth of yes/no, true/false, 1/0, x/blank."""
    word = text.strip().lower()
    if word in ("yes", "y", "true", "1", "x"):
        return True
    if word in ("no", "n", "false", "0", ""):
        return False
    raise Unreadable("is neither yes nor no", "Write yes or no")


def read_names(text: str) -> tuple[str, ...]:
    """Return names with spaces between; ``1..12`` and ``I0..I13`` stand for all between."""
    found = tuple(name for word in text.split() for name in _spread(word))
    twice = sorted({name for name in found if found.count(name) > 1})
    if twice:
        raise Unreadable(f"names {', '.join(twice)} twice", "Name each one once")
    return found


def read_end(text: str) -> End:
    """Return a wire end written ``-Q1:2``; the last colon divides."""
    device, colon, terminal = text.strip().rpartition(":")
    device, terminal = device.strip(), terminal.strip()
    if not (colon and device and terminal):
        raise Unreadable("names no terminal", "Write device:terminal, e.g. -Q1:2")
    if len(terminal.split()) > 1:
        raise Unreadable("has a space inside the terminal's name", "Write it like -Q1:2")
    return End(device, terminal)


def written_names(found: tuple[str, ...]) -> str:
    """Return the cell that :func:`read_names` reads back, runs of four and more as ``1..12``."""
    words: list[str] = []
    index = 0
    while index < len(found):
        end = _run_end(found, index)
        if end - index >= 4:
            words.append(f"{found[index]}..{found[end - 1]}")
        else:
            end = index + 1
            words.append(found[index])
        index = end
    return " ".join(words)


def _with_point(spelt: str, *, comma: bool) -> str:
    """Return the number with a decimal point, or refuse what could mean two numbers."""
    if comma:
        if re.match(r"[+-]?\d{1,3}(?:\.\d{3})+(?![\d.])", spelt):
            raise Unreadable(
                "may mean thousands: this file writes decimal commas",
                "Write it without a point between thousands",
            )
        return _COMMA.sub(".", spelt, count=1)
    if _THREE_BEHIND_COMMA.match(spelt):
        raise Unreadable(
            "may mean thousands or a decimal comma", "Write it like 1200 or like 1.2, no comma"
        )
    if _COMMA.search(spelt):
        raise Unreadable("has a decimal comma", "Write a decimal point: " + _COMMA.sub(".", spelt))
    return spelt


def _magnitude(found: re.Match[str]) -> float:
    try:
        if found["decimal"] is not None:
            value = float(found["decimal"])
        elif found["whole"] is not None:
            value = int(found["whole"]) + int(found["above"]) / int(found["below"])
        else:
            value = int(found["over"]) / int(found["under"])
    except (ZeroDivisionError, OverflowError, ValueError):
        raise Unreadable("is not a number", "Correct the number") from None
    return -value if found["sign"] == "-" else value


def _unit(word: str, suffix: str | None) -> Alias:
    known = ALIASES.get(suffix or "", {})
    spelt = word.lower().replace(" ", "").rstrip(".")
    if spelt in known:
        return known[spelt]
    if suffix is None:
        raise Unreadable(f"has {word!r} behind the number", "Write the number alone")
    for aliases in ALIASES.values():
        if spelt in aliases:
            raise Unreadable(
                f"is given in {word}, which is no unit of what is asked here (a number in {suffix})",
                "Correct the value or its column",
            )
    raise Unreadable(f"has the unknown unit {word!r}", nearest(spelt, known))


def _spread(word: str) -> tuple[str, ...]:
    if ".." not in word:
        return (word,)
    found = _RANGE.fullmatch(word)
    if found is None or found["same"] not in ("", found["stem"]):
        raise Unreadable(
            f"has a range {word!r} that can't be read", "Write it like 1..12 or I0..I7"
        )
    first, last = int(found["first"]), int(found["last"])
    if last < first:
        raise Unreadable(
            f"has a range {word!r} that runs backwards", "Write the lower number first"
        )
    if last - first >= LONGEST_RANGE:
        raise Unreadable(f"has a range {word!r} of more than {LONGEST_RANGE}", "Correct the range")
    wide = len(found["first"]) if found["first"].startswith("0") else 0
    return tuple(f"{found['stem']}{number:0{wide}d}" for number in range(first, last + 1))


def _run_end(found: tuple[str, ...], start: int) -> int:
    """Return where the run of counted names that starts at ``start`` ends (one past)."""
    head = re.fullmatch(r"(.*?)(0|[1-9][0-9]*)", found[start])
    if head is None or ".." in found[start]:
        return start + 1
    end = start + 1
    while end < len(found) and found[end] == f"{head[1]}{int(head[2]) + end - start}":
        end += 1
    return min(end, start + LONGEST_RANGE)
