"""The screws or rivets of rails and ducts are those that the job states."""

from __future__ import annotations

from collections.abc import Iterator

from platewright.fabricate.holding import usual_of
from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.job import Hold
from platewright.model.panel import Panel
from platewright.rules.judge import breaks, holds
from platewright.rules.registry import rule
from platewright.tables.reader import source_of


@rule(
    id="data.fixing-screw",
    title="Screws of rails and ducts are stated",
    why="The thread decides the drill, the tap and how near a hole may come to an edge. What is "
    "usual may not be what lies in the shop's boxes.",
    source=Source("table usual_fasteners", "usual screws and rivets", Standing.PRACTICE),
)
def check_fixing_screw(panel: Panel) -> Iterator[Reading]:
    """Look at what holds rails and what holds ducts, where the layout has any."""
    stock, usual = panel.job.settings.stock, usual_of(panel.job)
    riveted = stock.duct_hold is Hold.RIVET
    duct = ("duct_rivet", usual.duct_rivet) if riveted else ("duct_screw", usual.duct_screw)
    for kind, pieces, (field, taken) in (
        ("rails", panel.layout.rails, ("rail_screw", usual.rail_screw)),
        ("ducts", panel.layout.ducts, duct),
    ):
        if not pieces:
            continue
        stated = getattr(stock, field)
        if stated:
            yield holds(f"stock.{field}", message=f"{kind}: held by {stated}, as stated")
            continue
        what = "rivet" if field == "duct_rivet" else "screw"
        yield breaks(
            f"stock.{field}",
            message=f"{kind}: {what} not stated; {taken} assumed, usual in practice "
            f"{panel.job.settings.practice}",
            cure=f"State {field} under [stock] in job.toml",
            source=source_of(usual),
        )
