"""Length to cut for one wire."""

from __future__ import annotations

import math
from typing import Final

from platewright.foundation.units import Mm
from platewright.tables.wire_practice import wire_practice

ROUNDING: Final = 1e-9  # of one step: a length that is a step already is not rounded up


def cut_length(run: Mm, *, to_door: bool = False) -> Mm:
    """Return the length to cut for a wire's run, rounded up to the shop's step.

    run · (1 + slack) + 2 · strip + 2 · end, and a hinge loop for a wire to the door
    (shop practice, ``wire_practice.csv``).
    """
    shop = wire_practice()
    length = run * (1 + shop.slack) + 2 * shop.strip + 2 * shop.end
    if to_door:
        length += shop.hinge_loop
    return math.ceil(length / shop.round_up_to - ROUNDING) * shop.round_up_to
