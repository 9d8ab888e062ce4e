"""Off-cuts of a stock that this job has no bars of."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.fabricate.stock_names import bar_lengths
from platewright.foundation.errors import nearest, or_else
from platewright.foundation.sources import Source, Standing
from platewright.foundation.tag_order import listed
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import breaks, holds
from platewright.rules.registry import rule

SOURCE: Final = Source("offcuts.csv", "stock as the cut list names it", Standing.PRACTICE)


@rule(
    id="data.off-cuts",
    title="Off-cuts are of stock that this job cuts",
    why="Nothing is cut from an off-cut whose stock this job does not know. Where the name is only "
    "misspelt, a bar is bought that lies in the rack.",
    source=SOURCE,
)
def check_off_cuts(panel: Panel) -> Iterator[Reading]:
    """Name the unknown stocks and their off-cuts, all in one: they may be other jobs' stock."""
    bars = bar_lengths(panel.job.settings.stock)
    strange: dict[str, list[str]] = {}
    for offcut in panel.job.offcuts:
        if offcut.stock not in bars:
            strange.setdefault(offcut.stock, []).append(offcut.label)
    if strange:
        told = "; ".join(f"{stock!r} ({listed(labels)})" for stock, labels in strange.items())
        yield breaks(
            "",
            message=f"off-cuts of stock that this job has no bars of are left alone: {told}",
            cure=or_else(
                nearest(next(iter(strange)), bars),
                "Else leave them, or name that stock in job.toml",
            ),
            source=SOURCE,
        )
    elif panel.job.offcuts:
        yield holds("", message=f"{len(panel.job.offcuts)} off-cuts, all of this job's stock")
