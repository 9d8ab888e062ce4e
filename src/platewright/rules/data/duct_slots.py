"""The base of a duct whose slots are not stated is taken to have none, and is drilled."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.fabricate.slots import slots_of
from platewright.fabricate.stock_names import duct_name
from platewright.foundation.sources import Source, Standing
from platewright.foundation.tag_order import listed, tag_order
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import breaks, holds
from platewright.rules.registry import rule

SOURCE: Final = Source("assumption", "a base without slots, drilled through", Standing.PRACTICE)


@rule(
    id="data.duct-slots",
    title="Slots in the bases of ducts are stated",
    why="Most wire duct comes with slots in its base. Screws that lie on them spare drilling the "
    "duct; where the slots lie is read off the bar in the rack.",
    source=SOURCE,
)
def check_duct_slots(panel: Panel) -> Iterator[Reading]:
    """Name every size of duct whose slots are not stated, with the ducts cut from it."""
    stock = panel.job.settings.stock
    lacking: dict[str, list[str]] = {}
    for tag in sorted(panel.layout.ducts, key=tag_order):
        duct = panel.layout.ducts[tag]
        if slots_of(duct, stock) is None:
            lacking.setdefault(duct_name(duct, stock), []).append(tag)
    for name, tags in lacking.items():
        yield breaks(
            name,
            message=f"duct {name}: slots of the base not stated; assumed none, so "
            f"{listed(tags)} {'is' if len(tags) == 1 else 'are'} drilled through",
            cure="State slot_pitch_mm (and slot_length_mm, slot_width_mm, slot_lines_mm, "
            "first_slot_mm) of this duct under stock.ducts in job.toml",
            source=SOURCE,
            place=panel.layout.ducts[tags[0]].box,
        )
    if panel.layout.ducts and not lacking:
        yield holds("", message=f"slots stated for all {len(panel.layout.ducts)} ducts")
