"""Anneal a sequence of blocks: legal moves only once a legal plate is found.

Own xorshift generator, so that the same seed gives the same plate on every machine.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.arrange.arrays import Blocks, Floats, Frame, Ints, Placed, Wiring
from platewright.arrange.kernels.evaluate import evaluate
from platewright.foundation.compiled import compiled

Bits = NDArray[np.uint64]
_STEP = 5.0  # mm by which room above a row grows or shrinks


@compiled
def _next(state: Bits) -> np.uint64:
    """Advance the generator in place; return 64 random bits."""
    s = state[0]
    s ^= s << np.uint64(13)
    s ^= s >> np.uint64(7)
    s ^= s << np.uint64(17)
    state[0] = s
    return s


@compiled
def _below(state: Bits, n: int) -> int:
    """Return a random whole number below n."""
    return np.int64((_next(state) >> np.uint64(11)) % np.uint64(n))


@compiled
def _share(state: Bits) -> float:
    """Return a random number in [0, 1)."""
    return np.float64(_next(state) >> np.uint64(11)) / 9007199254740992.0


@compiled
def _move_run(tokens: Ints, i: int, length: int, j: int) -> None:
    """Move ``length`` tokens from place i so that they stand at place j of the rest."""
    n = len(tokens)
    run = tokens[i : i + length].copy()
    rest = np.empty(n - length, dtype=np.int64)
    rest[:i] = tokens[:i]
    rest[i:] = tokens[i + length :]
    j = min(j, n - length)
    tokens[:j] = rest[:j]
    tokens[j : j + length] = run
    tokens[j + length :] = rest[j:]


@compiled
def _change(
    tokens: Ints,
    extra: Floats,
    blocks: Blocks,
    wiring: Wiring,
    frame: Frame,
    state: Bits,
    where: int,
) -> None:
    """Change the sequence by one random move."""
    n = len(tokens)
    kind = _below(state, 100)
    if kind < 6 and frame.box.shape[0] + len(blocks.width) - blocks.free > 0:
        r = _below(state, frame.rows)
        step = _STEP * (1 + _below(state, 8))
        extra[r] = max(0.0, extra[r] + (step if _below(state, 2) == 0 else -step))
        return
    i = _below(state, n)
    if kind < 30:
        j = _below(state, n)
        kept = tokens[i]
        tokens[i] = tokens[j]
        tokens[j] = kept
        return
    if kind < 65 and tokens[i] < blocks.free:
        b = tokens[i]
        count = wiring.first[b + 1] - wiring.first[b]
        if count > 0:
            mate = wiring.partner[wiring.first[b] + _below(state, count)]
            if mate < blocks.free:
                for k in range(n):
                    if tokens[k] == mate:
                        where = k
                        break
                j = where + (1 if _below(state, 2) == 0 else 0)
                if j > i:
                    j -= 1
                _move_run(tokens, i, 1, j)
                return
    length = min(1 + _below(state, 4), n - i)
    if kind < 85:
        j = max(0, i + _below(state, 17) - 8)
    else:
        j = _below(state, n)
    _move_run(tokens, i, length, j)


@compiled
def anneal(
    tokens: Ints,
    extra: Floats,
    blocks: Blocks,
    wiring: Wiring,
    frame: Frame,
    placed: Placed,
    moves: int,
    hot: float,
    cold: float,
    seed: int,
    best: tuple[Ints, Floats],
) -> tuple[float, float]:
    """Try ``moves`` moves from (tokens, extra), cooling from ``hot`` to ``cold`` mm.

    Changes ``tokens`` and ``extra`` to where the walk ended and fills ``best`` (tokens, extra)
    with the best place met. Returns (violation, cost) of that best place.
    """
    best_tokens, best_extra = best
    place = np.zeros(len(blocks.width), dtype=np.int64)
    state = np.empty(1, dtype=np.uint64)
    state[0] = np.uint64(seed) * np.uint64(2685821657736338717) + np.uint64(88172645463325252)
    for _ in range(8):
        _next(state)
    now_bad, now_cost, _ = evaluate(tokens, extra, blocks, wiring, frame, placed, place)
    best_bad, best_cost, _ = evaluate(best_tokens, best_extra, blocks, wiring, frame, placed, place)
    if moves <= 0 or len(tokens) < 2:
        return best_bad, best_cost
    cooling = (cold / hot) ** (1.0 / moves)
    heat = hot
    trial = tokens.copy()
    trial_extra = extra.copy()
    for _ in range(moves):
        heat *= cooling
        _change(trial, trial_extra, blocks, wiring, frame, state, 0)
        bad, cost, _ = evaluate(trial, trial_extra, blocks, wiring, frame, placed, place)
        if bad != now_bad:
            take = bad < now_bad
            if not take and now_bad > 0.0:
                take = _share(state) < np.exp((now_bad - bad) / (0.1 * heat))
        else:
            take = cost <= now_cost or _share(state) < np.exp((now_cost - cost) / heat)
        if not take:
            trial[:] = tokens
            trial_extra[:] = extra
            continue
        tokens[:] = trial
        extra[:] = trial_extra
        now_bad, now_cost = bad, cost
        if bad < best_bad or (bad == best_bad and cost < best_cost - 1e-9):
            best_bad, best_cost = bad, cost
            best_tokens[:] = trial
            best_extra[:] = trial_extra
    return best_bad, best_cost
