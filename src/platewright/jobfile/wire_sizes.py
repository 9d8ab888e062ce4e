"""Wire sizes as shops write them: ``14 AWG``, ``#14``, ``1/0 AWG``, ``1.5 mm²``, or a bare number."""

from __future__ import annotations

import re
from typing import Final

from platewright.jobfile.quantities import Unreadable, plain_characters, read_number
from platewright.model.job import Practice
from platewright.model.wire import SizeSystem, WireSize

THINNEST_AWG: Final = 30
_THICK: Final = {"0": "1/0", "00": "2/0", "000": "3/0", "0000": "4/0"}
_THICK_NAMES: Final = frozenset(_THICK.values())
_AWG: Final = re.compile(r"(?:AWG\s*|#\s*)?(\d/0|\d+)\s*(?:AWG|GA\.?)?", re.IGNORECASE)
_MM2: Final = re.compile(r"(.*?)\s*(?:mm2|mm²|mm\^2|sq\.?\s*mm|qmm)", re.IGNORECASE)


def read_wire_size(text: str, practice: Practice | None, *, comma: bool = False) -> WireSize:
    """Return a wire size; a bare number is AWG in North American practice and mm² in IEC's.

    ``practice`` is ``None`` when the job's file has a fault and can't say: any sound number
    passes then, because the job is refused anyway.
    """
    spelt = plain_characters(text)
    square = _MM2.fullmatch(spelt)
    if square:
        return _square(square[1], comma=comma)
    gauge = _AWG.fullmatch(spelt)
    is_bare = re.fullmatch(r"[\d.,]+", spelt) is not None
    if gauge and not is_bare:
        return _gauge(gauge[1])
    if is_bare and practice is Practice.IEC:
        return _square(spelt, comma=comma)
    if is_bare and gauge and practice is Practice.NORTH_AMERICA:
        return _gauge(gauge[1])
    if is_bare and practice is None:
        return _square(spelt, comma=comma)
    raise Unreadable("is not a wire size", "Write it like 14 AWG or 1.5 mm2")


def _square(number: str, *, comma: bool) -> WireSize:
    area = read_number(number, None, comma=comma)
    if area <= 0:
        raise Unreadable("is not a wire size", "Write a cross-section above 0, e.g. 1.5 mm2")
    return WireSize(f"{area:.12g}", SizeSystem.MM2)


def _gauge(number: str) -> WireSize:
    name = _THICK.get(number, number)
    if name in _THICK_NAMES:
        return WireSize(name, SizeSystem.AWG)
    if "/" in name or name.startswith("0") or int(name) > THINNEST_AWG:
        raise Unreadable("is outside 30 AWG to 4/0 AWG", "Write a size like 14 AWG or 2/0 AWG")
    return WireSize(name, SizeSystem.AWG)
