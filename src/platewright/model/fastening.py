"""How things are held to the plate, and why by so many screws."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Source
from platewright.foundation.units import Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastening:
    """The screws or rivets of one device, rail or duct.

    ``sag`` ``None``: it is no beam, or its section is not known.
    """

    tag: str
    kind: str  # device, rail or duct
    count: int
    reason: str
    longest: Mm | None  # greatest distance between two neighbouring fixings
    sag: Mm | None  # in that span
    limit: Mm | None  # that it may bend
    source: Source
