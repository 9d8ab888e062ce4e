"""How a conductor size is written in the tables.

The tables know no wire records; anything with a number and a size system will do.
"""

from __future__ import annotations

from typing import Final, Protocol

AWG: Final = "AWG"
SMALLEST_KCMIL: Final = 250  # sizes from here on are named by their area in kcmil, not by gauge


class Size(Protocol):
    """A conductor size: its number as written on the reel and its system, AWG or mm2."""

    @property
    def number(self) -> str:
        """Number as written, e.g. ``14``, ``1/0`` or ``1.5``."""

    @property
    def system(self) -> str:
        """``AWG`` or ``mm2``."""


def size_key(size: Size) -> tuple[str, str]:
    """Return (system, number) in the one spelling the tables use.

    ``00`` is ``2/0``, ``1.0`` is ``1``; anything that is no number is handed back as written.
    """
    number = size.number.strip()
    if size.system == AWG:
        is_aught = bool(number) and set(number) == {"0"}
        return AWG, f"{len(number)}/0" if is_aught else number
    try:
        return str(size.system), f"{float(number):g}"
    except ValueError:
        return str(size.system), number
