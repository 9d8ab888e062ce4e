"""Counts of fixings with their reasons; limits from practice, job and beam."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from platewright.fabricate.beams import longest_span, rail_beam
from platewright.fabricate.fastening import fastenings, inside_of, least_span, limits_of
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.model.job import DisplayUnit, DuctStock, Hold, Job, Limits, Stock
from platewright.model.layout import Duct, Hole, HoleKind, Layout, Placement, Rail, Run

MakeJob = Callable[..., Job]
NARROW = Stock(ducts=(DuctStock(name="25x60", width=25, height=60),))
DUCT = Duct(x=50, y=100, length=700, width=25, height=60, run=Run.ACROSS, stock="25x60")


def held(tag: str, *places: float, y: float = 300) -> dict[str, Hole]:
    return {
        f"H{n}": Hole(x=at, y=y, kind=HoleKind.TAPPED, size="M5", drill=4.2, holds=tag)
        for n, at in enumerate(places)
    }


def test_three_screws_because_with_two_it_bends_too_far(make_job: MakeJob) -> None:
    """870 mm between two screws: 20 · 870³ / (48 · 210 000 · 326.15) = 4.0 mm."""
    job = make_job(limits=Limits(fixing_span=900, fixing_end=15))
    layout = Layout(rails={"R1": Rail(x=0, y=300, length=900)}, holes=held("R1", 15, 450, 885))
    found = fastenings(job, layout)["R1"]
    assert found.count == 3
    assert found.reason == (  # 450 lies midway between slots at 437.5 and 462.5
        "3 screws in its slots, 1 drilled beside them: "
        "with 2 it bends 4.0 mm under a pull of 20 N, limit 1.0"
    )
    assert found.longest == 435
    assert found.sag == pytest.approx(20 * 435**3 / (48 * 210_000 * 326.1469))


def test_the_beam_asks_for_more_than_practice(make_job: MakeJob) -> None:
    """A duct 25 wide bends more than 1 mm at 300 mm, the usual ceiling; one 80 wide does not."""
    job = make_job(stock=NARROW)
    assert limits_of(DUCT, job)[1] < 300
    assert limits_of(replace(DUCT, width=80, stock=""), job)[1] == 300
    found = fastenings(job, place_holes(job, Layout(ducts={"W1": DUCT})))["W1"]
    assert found.count == 4
    assert found.reason.startswith("4 screws through its drilled base: with 3 it bends ")
    assert found.sag is not None and found.limit is not None  # noqa: PT018
    assert found.sag <= found.limit


def test_practice_where_it_is_the_tighter(make_job: MakeJob) -> None:
    job = make_job()
    rail = Rail(x=10, y=300, length=750)
    beam = rail_beam(rail.profile)
    assert beam is not None and longest_span(beam, 1.0) > 300  # noqa: PT018
    found = fastenings(job, place_holes(job, Layout(rails={"R1": rail})))["R1"]
    assert found.reason == ("4 screws in its slots: with 3 they stand 325 mm apart, at most 300 mm")


INCH_SLOTS = DuctStock(
    name="25x76", width=25.4, height=76.2, slot_pitch=25.4, slot_length=12.7, slot_width=6.35
)


def test_where_slots_keep_fewer_from_doing_the_sag_there_is_the_reason(make_job: MakeJob) -> None:
    """530 long: three evenly spread would do, 215 apart; in slots 25.4 apart they are 228.6."""
    job = make_job(stock=Stock(ducts=(INCH_SLOTS,)))
    duct = replace(DUCT, length=530, width=25.4, height=76.2, stock="25x76")
    found = fastenings(job, place_holes(job, Layout(ducts={"D2": duct})))["D2"]
    assert found.count == 4
    assert found.reason.startswith(
        "4 screws in its slots: with 3 in slots 228.6 mm apart it bends 1.1 mm under a push of 20 N"
    )
    assert found.reason.endswith("limit 1.0")
    inch = replace(job, settings=replace(job.settings, units=DisplayUnit.INCH))
    told = fastenings(inch, place_holes(inch, Layout(ducts={"D2": duct})))["D2"].reason
    assert "with 3 in slots 9.00 in apart it bends 0.041 in under" in told
    assert told.endswith("limit 0.039")


@pytest.mark.parametrize(
    ("end", "fixings", "span"),
    [(50, 3, 40.0), (10, 3, 80.0), (50, 2, 80.0), (5, 3, None), (10, 5, 40.0)],
)
def test_least_span_in_slots(end: float, fixings: int, span: float | None) -> None:
    """Slots at 10, 50, 90, 130, 170 of a piece of 180; by hand."""
    places = (10.0, 50.0, 90.0, 130.0, 170.0)
    assert least_span(places, length=180, end=end, fixings=fixings) == span


def test_never_fewer_than_two(make_job: MakeJob) -> None:
    job = make_job()
    layout = place_holes(job, Layout(rails={"R1": Rail(x=10, y=300, length=150)}))
    reason = fastenings(job, layout)["R1"].reason
    assert reason.startswith("2 screws in its slots: never fewer; it bends 0.0")
    bare = fastenings(job, Layout(rails={"R1": Rail(x=10, y=300, length=150)}))["R1"]
    assert (bare.count, bare.longest, bare.sag) == (0, None, None)
    assert bare.reason.startswith("0 screws: too few")


def test_devices_have_the_screws_of_their_pattern(make_job: MakeJob) -> None:
    job = make_job({"-U1": "drive"})
    layout = place_holes(job, Layout(devices={"-U1": Placement(x=100, y=100)}))
    assert fastenings(job, layout)["-U1"].reason.startswith("4 screws: its hole pattern; ")


def test_ducts_are_riveted_where_the_job_says_so(make_job: MakeJob) -> None:
    job = make_job(stock=replace(NARROW, duct_hold=Hold.RIVET, duct_rivet="3/16"))
    layout = place_holes(
        job, Layout(ducts={"W1": DUCT}, rails={"R1": Rail(x=60, y=300, length=200)})
    )
    of_duct = [h for h in layout.holes.values() if h.holds == "W1"]
    assert {(h.kind, h.size) for h in of_duct} == {(HoleKind.RIVET, "3/16")}
    assert {h.kind for h in layout.holes.values() if h.holds == "R1"} == {HoleKind.TAPPED}
    assert " rivets through its drilled base: " in fastenings(job, layout)["W1"].reason


def test_ducts_with_slots_are_held_in_them(make_job: MakeJob) -> None:
    slotted = replace(NARROW.ducts[0], slot_pitch=50, slot_length=12)
    job = make_job(stock=replace(NARROW, ducts=(slotted,)))
    found = fastenings(job, place_holes(job, Layout(ducts={"W1": DUCT})))["W1"]
    assert " screws in its slots: " in found.reason
    holes = {tag: replace(hole, holds="W1") for tag, hole in held("W1", 50 + 50, 50 + 650).items()}
    beside = fastenings(job, Layout(ducts={"W1": DUCT}, holes=holes))["W1"]
    assert beside.reason.startswith("2 screws drilled beside its slots: ")


def test_each_piece_of_a_joined_rail_is_held_by_itself(make_job: MakeJob) -> None:
    job = make_job(width=3000)
    layout = place_holes(job, Layout(rails={"R1": Rail(x=50, y=300, length=2500)}))
    places = sorted(h.x - 50 for h in layout.holes.values())
    first, second = [p for p in places if p < 1250], [p for p in places if p > 1250]
    for part, (low, high) in ((first, (0, 1250)), (second, (1250, 2500))):
        assert len(part) >= 2
        assert part[0] - low <= 50
        assert high - part[-1] <= 50
    reason = fastenings(job, layout)["R1"].reason
    assert reason.startswith("piece 1 of 2, ")
    assert "; piece 2 of 2, " in reason


def test_inside_as_stated_or_between_usual_walls() -> None:
    """(25 − 2 · 1.5) · (60 − 1.5 − 3) by the usual walls."""
    assert inside_of(DUCT, NARROW) == pytest.approx(22 * 55.5)
    stated = Stock(ducts=(DuctStock(name="25x60", width=25, height=60, inside_area=1000),))
    assert inside_of(DUCT, stated) == 1000
