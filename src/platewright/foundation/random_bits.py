"""Random bits for kernels: the same seed gives the same bits on every machine.

The generator shifts and mixes one word of 64 bits (xorshift; Marsaglia, "Xorshift RNGs", 2003,
with the shifts 13, 7, 17 of its list for 64 bits). The state must not be 0.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.compiled import lent

Bits = NDArray[np.uint64]


@lent
def next_bits(state: Bits) -> np.uint64:
    """Advance the generator in place; return 64 random bits. ``state``: one word."""
    s = state[0]
    s ^= s << np.uint64(13)
    s ^= s >> np.uint64(7)
    s ^= s << np.uint64(17)
    state[0] = s
    return s


@lent
def below(state: Bits, n: int) -> int:
    """Return a random whole number from 0 to n - 1."""
    return np.int64((next_bits(state) >> np.uint64(11)) % np.uint64(n))


@lent
def share(state: Bits) -> float:
    """Return a random number in [0, 1)."""
    return np.float64(next_bits(state) >> np.uint64(11)) / 9007199254740992.0
