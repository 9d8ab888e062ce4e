"""What is left of bars and kept."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from annotated_types import Gt

from platewright.foundation.units import Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """One off-cut in store: a row of ``offcuts.csv``."""

    label: Annotated[str, "What is written on it"]
    stock: Annotated[str, "Bar it was cut from, as the cut list names it, e.g. duct 40x60"]
    length: Annotated[Mm, Gt(0), "Length that can be used"]
