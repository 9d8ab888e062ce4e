"""Off-cuts of a stock that this job has no bars of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import zip_longest
from typing import Final

from platewright.fabricate.stock_names import bar_lengths
from platewright.foundation.sources import Source, Standing
from platewright.foundation.tag_order import listed
from platewright.model.finding import Reading
from platewright.model.job import Job
from platewright.model.offcut import Offcut
from platewright.model.panel import Panel
from platewright.rules.judge import breaks, holds
from platewright.rules.registry import rule

SOURCE: Final = Source("offcuts.csv", "stock as the cut list names it", Standing.PRACTICE)
LIST: Final = "offcuts.csv"  # where the job names no other
SHORTENED: Final = 6  # letters of a stock's name that are enough to ask whether it is meant


@rule(
    id="data.off-cuts",
    title="Off-cuts are of stock that this job cuts",
    why="Nothing is cut from an off-cut whose stock this job does not know. Where the name is only "
    "misspelt, a bar is bought that lies in the rack.",
    source=SOURCE,
)
def check_off_cuts(panel: Panel) -> Iterator[Reading]:
    """Name the unknown stocks and their rows, all in one: they may be other jobs' stock."""
    job = panel.job
    bars = bar_lengths(job.settings.stock)
    strange: dict[str, list[tuple[int, Offcut]]] = {}
    for row, offcut in zip_longest(job.offcut_rows, job.offcuts, fillvalue=0):
        if isinstance(offcut, Offcut) and offcut.stock not in bars:
            strange.setdefault(offcut.stock, []).append((row, offcut))
    if strange:
        meant = {stock: name for stock in strange if (name := _meant(stock, bars))}
        told = [_told(stock, strange[stock], meant[stock]) for stock in meant]
        told += [_told(stock, rows, "") for stock, rows in strange.items() if stock not in meant]
        yield breaks(
            "",
            message="off-cuts of stock that this job has no bars of are left alone: "
            f"{_list_of(job)}, {'; '.join(told)}",
            cure=_cure(meant),
            source=SOURCE,
        )
    elif job.offcuts:
        yield holds("", message=f"{len(job.offcuts)} off-cuts, all of this job's stock")


def _list_of(job: Job) -> str:
    return job.settings.stock.offcuts or LIST


def _told(stock: str, offcuts: list[tuple[int, Offcut]], meant: str) -> str:
    rows = [str(row) for row, _ in offcuts if row]
    where = f"row{'s' if len(rows) > 1 else ''} {listed(rows)}, " if rows else ""
    labels = listed([offcut.label for _, offcut in offcuts])
    return f"{where}stock = {stock!r} ({labels}){f', is {meant!r} meant?' if meant else ''}"


def _cure(meant: dict[str, str]) -> str:
    leave = "Leave off-cuts of other jobs' stock, or name that stock in job.toml"
    if not meant:
        return leave
    written = ", ".join(f"{name!r} for {stock!r}" for stock, name in meant.items())
    return f"Where it is meant, write {written}. {leave}"


def _meant(stock: str, bars: Iterable[str]) -> str:
    """Return the job's stock that is one slip of the pen away; blank: none."""
    typed = " ".join(stock.lower().split())
    for name in bars:
        known = name.lower()
        is_shortened = len(typed) >= SHORTENED and known.startswith(typed)
        if is_shortened or is_one_slip(typed, known):
            return name
    return ""


def is_one_slip(typed: str, known: str) -> bool:
    """Tell whether at most one letter is wrong, missing, too much, or changed with the next."""
    if typed == known:
        return True
    start = next(
        (k for k, (a, b) in enumerate(zip(typed, known, strict=False)) if a != b),
        min(len(typed), len(known)),
    )
    a, b = typed[start:], known[start:]
    return a[1:] == b[1:] or a[1:] == b or a == b[1:] or (a[:2] == b[:2][::-1] and a[2:] == b[2:])
