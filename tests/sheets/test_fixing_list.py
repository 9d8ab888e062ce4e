import dataclasses

from platewright.drawing.picture import Text
from platewright.foundation.sources import Source, Standing
from platewright.model.fastening import Fastening
from platewright.sheets.registry import listings, sheets

HELD = Fastening(
    tag="R1",
    kind="rail",
    count=3,
    reason="3 screws: with 2 it bends 4.1 mm under a pull of 20 N, limit 1.0",
    longest=435.0,
    sag=0.5,
    limit=1.0,
    source=Source("rails as beams", standing=Standing.PRACTICE),
)


def words_of(panel):
    pictures = sheets()["fixings"].draw(panel, ())
    return " ".join(p.text for pic in pictures for p in pic.primitives if isinstance(p, Text))


def test_each_count_stands_with_its_reason_and_source(panel):
    held = dataclasses.replace(panel, fastenings={"R1": HELD})
    (row,) = listings()["fixings"].make(held, ()).rows
    assert row == ("R1", "rail", 3, 435.0, HELD.reason, "rails as beams (shop practice)")
    told = words_of(held)
    assert "with 2 it bends" in told
    assert "435" in told


def test_without_a_layout_it_says_so(bare_panel):
    assert "Nothing to hold yet" in words_of(bare_panel)


def test_things_held_alike_for_the_same_reason_share_a_row(panel):
    held = {f"R{n}": dataclasses.replace(HELD, tag=f"R{n}") for n in (1, 2, 3)}
    held["R4"] = dataclasses.replace(HELD, tag="R4", count=4)
    told = words_of(dataclasses.replace(panel, fastenings=held))
    assert "R1 to R3" in told
    assert told.count("with 2 it bends") == 2
