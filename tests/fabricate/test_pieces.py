"""Pieces: exact lengths, ends, openings, covers, joints. Expected values drawn by hand."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest

from platewright.fabricate.joints import meetings
from platewright.fabricate.pieces import pieces_of
from platewright.fabricate.stretches import cover_stretches, stretches
from platewright.model.job import DisplayUnit, DuctStock, Job, RailStock, Stock
from platewright.model.layout import Duct, Hole, HoleKind, Layout, Placement, Rail, Run

MakeJob = Callable[..., Job]
STOCK = Stock(ducts=(DuctStock(name="40x60", width=40, height=60),))
DUCT = Duct(x=0, y=0, length=612.5, width=40, height=60, run=Run.ACROSS, stock="40x60")
# two uprights of 500, two branches between them with 2 mm left for warmth at each end
LADDER = Layout(
    ducts={
        "W1": Duct(x=0, y=0, length=500, width=40, height=60, run=Run.UPRIGHT),
        "W2": Duct(x=600, y=0, length=500, width=40, height=60, run=Run.UPRIGHT),
        "W3": Duct(x=42, y=0, length=556, width=40, height=60, run=Run.ACROSS),
        "W4": Duct(x=42, y=300, length=556, width=25, height=60, run=Run.ACROSS),
    }
)


def test_every_rail_duct_and_cover_once_and_exact(make_job: MakeJob) -> None:
    layout = Layout(
        rails={"R10": Rail(x=0, y=50, length=400), "R2": Rail(x=0, y=9, length=301.25)},
        ducts={"W1": DUCT},
    )
    cut = [(p.tag, p.stock, p.length) for p in pieces_of(make_job(stock=STOCK), layout)]
    assert cut == [
        ("R2", "rail TH35-7.5", 301.25),
        ("R10", "rail TH35-7.5", 400),
        ("W1", "duct 40x60", 612.5),
        ("W1", "cover 40x60", 612.5),
    ]


def test_notes_say_where_the_slots_start(make_job: MakeJob) -> None:
    upright = Rail(x=0, y=0, length=200, run=Run.UPRIGHT)
    layout = Layout(rails={"R1": Rail(x=0, y=50, length=400), "R2": upright})
    job = make_job(stock=replace(STOCK, rail=RailStock(slot_pitch=36)))
    first, second = pieces_of(job, layout)
    assert first.note == "first slot centre 18 mm from the left end"
    assert second.note == "first slot centre 18 mm from the lower end"


def test_unnamed_duct_is_found_by_its_size(make_job: MakeJob) -> None:
    job = make_job(stock=STOCK)
    found = pieces_of(job, Layout(ducts={"W1": replace(DUCT, stock="")}))
    other = pieces_of(job, Layout(ducts={"W1": replace(DUCT, stock="", width=33)}))
    assert found[0].stock == "duct 40x60"
    assert other[0].stock == "duct 33x60"


def test_empty_layout_cuts_nothing(make_job: MakeJob) -> None:
    assert pieces_of(make_job(), Layout()) == ()


def test_branches_butt_and_the_walls_they_meet_are_opened() -> None:
    met = meetings(LADDER)
    assert met["W3"].ends == (("W1",), ("W2",))
    assert met["W1"].ends == ((), ())
    left = [(n.wall, n.start, n.end, n.branch) for n in met["W1"].notches]
    right = [(n.wall, n.start, n.end, n.branch) for n in met["W2"].notches]
    assert left == [("right", 0, 40, "W3"), ("right", 300, 325, "W4")]
    assert right == [("left", 0, 40, "W3"), ("left", 300, 325, "W4")]
    assert met["W3"].notches == ()


def test_uprights_that_end_under_a_duct_across() -> None:
    layout = Layout(
        ducts={
            "W1": Duct(x=0, y=400, length=600, width=40, height=60, run=Run.ACROSS),
            "W2": Duct(x=100, y=0, length=398, width=60, height=60, run=Run.UPRIGHT),
        }
    )
    met = meetings(layout)
    assert met["W2"].ends == ((), ("W1",))
    assert [(n.wall, n.start, n.end) for n in met["W1"].notches] == [("lower", 100, 160)]


@pytest.mark.parametrize(("gap", "meets"), [(0, True), (6, True), (6.1, False)])
def test_ducts_end_to_end_join_where_the_gap_is_small(gap: float, meets: bool) -> None:
    beyond = replace(DUCT, x=DUCT.length + gap)
    met = meetings(Layout(ducts={"W1": DUCT, "W2": beyond}))
    assert (met["W1"].ends[1] == ("W2",)) is meets
    assert (met["W2"].ends[0] == ("W1",)) is meets
    assert met["W1"].notches == ()


def test_ends_and_openings_are_on_the_piece_and_in_its_note(make_job: MakeJob) -> None:
    found = {p.tag: p for p in pieces_of(make_job(stock=STOCK), LADDER) if "duct" in p.stock}
    assert found["W3"].ends == ("square, butts W1", "square, butts W2")
    assert found["W1"].note == (
        "right wall, mm from the lower end, fingers off to the base: 0 to 40 for W3, "
        "300 to 325 for W4"
    )


def test_covers_are_shorter_by_a_millimetre_for_each_joint(make_job: MakeJob) -> None:
    """Shop practice: covers 1 to 2 mm shorter per joint."""
    covers = {p.tag: p for p in pieces_of(make_job(stock=STOCK), LADDER) if "cover" in p.stock}
    assert covers["W1"].length == 500
    assert covers["W3"].length == 554
    assert covers["W3"].note == "cover of W3, 2 mm shorter for 2 joints"
    none = make_job(stock=replace(STOCK, cover_gap=0.0))
    assert {p.length for p in pieces_of(none, LADDER) if p.tag == "W3"} == {556}


@pytest.mark.parametrize(("length", "pieces"), [(2000, 1), (2000.1, 2), (3999, 2), (4001, 3)])
def test_longer_than_a_bar_becomes_pieces_with_a_joint(
    length: float, pieces: int, make_job: MakeJob
) -> None:
    layout = Layout(
        ducts={"W1": replace(DUCT, length=length)}, rails={"R1": Rail(x=0, y=90, length=length)}
    )
    cut = pieces_of(make_job(stock=STOCK), layout)
    for stock in ("duct 40x60", "rail TH35-7.5"):
        parts = [p for p in cut if p.stock == stock]
        assert len(parts) == pieces
        assert sum(p.length for p in parts) == pytest.approx(length)
        assert max(p.length for p in parts) <= 2000
    covers = [p.length for p in cut if p.stock == "cover 40x60"]
    assert max(covers) <= 2000
    assert len(covers) - pieces == (
        length == 3999
    )  # two whole bars would meet over the base's joint
    assert sum(covers) == pytest.approx(length - (len(covers) - 1))
    if pieces > 1:
        assert cut[0].mark == f"R1 (1 of {pieces})"
        assert cut[0].ends == ("square", "square, joins piece 2")


def test_the_joint_keeps_off_openings(make_job: MakeJob) -> None:
    """A branch meets in the middle of 3000 mm: the joint moves 60 mm off its opening."""
    ducts = {
        "W1": Duct(x=0, y=0, length=3000, width=40, height=60, run=Run.ACROSS),
        "W2": Duct(x=1480, y=42, length=300, width=40, height=60, run=Run.UPRIGHT),
    }
    first, second = stretches("W1", make_job(stock=STOCK), Layout(ducts=ducts))
    assert first.end == second.start
    assert first.end in (1420, 1580)


def test_the_joint_of_a_rail_lies_between_devices_and_between_slots(make_job: MakeJob) -> None:
    """A device stands from 1470 to 1515: 1475 to 1500 are under it, 1525 is free."""
    layout = Layout(
        rails={"R1": Rail(x=0, y=100, length=3000)}, devices={"-F1": Placement(x=1470, y=60)}
    )
    first, _ = stretches("R1", make_job({"-F1": "block"}), layout)
    assert first.end == 1525
    assert first.end % 25 == 0


def test_openings_are_measured_on_their_own_piece(make_job: MakeJob) -> None:
    ducts = {
        "W1": Duct(x=0, y=0, length=3000, width=40, height=60, run=Run.ACROSS),
        "W2": Duct(x=2000, y=42, length=300, width=40, height=60, run=Run.UPRIGHT),
    }
    cut = pieces_of(make_job(stock=STOCK), Layout(ducts=ducts))
    first, second = [p for p in cut if p.tag == "W1" and p.stock.startswith("duct")]
    assert first.notches == ()
    assert [(n.start, n.end) for n in second.notches] == [(500, 540)]


@pytest.mark.parametrize("length", [2000.1, 2500, 3000, 3799, 3801, 3999, 4001, 5500, 7990])
def test_covers_bridge_the_joints_of_their_bases(length: float, make_job: MakeJob) -> None:
    """Each joint of the cover stands 100 mm or more off every joint of the base (practice)."""
    job = make_job(stock=STOCK)
    duct = replace(DUCT, length=length)
    bases = stretches("W1", job, Layout(ducts={"W1": duct}))
    covers = cover_stretches(duct, job, bases)
    assert covers[0].start == 0
    assert covers[-1].end == length
    assert all(a.end == b.start for a, b in pairwise(covers))
    assert max(c.length for c in covers) <= 2000
    assert len(covers) <= len(bases) + 1
    for cover in covers[:-1]:
        assert min(abs(cover.end - base.end) for base in bases[:-1]) >= 100
    notes = [p.note for p in pieces_of(job, Layout(ducts={"W1": duct})) if "cover" in p.stock]
    assert all("off the base's" in note for note in notes[:-1])


def test_notes_are_in_the_unit_of_the_job(make_job: MakeJob) -> None:
    job = make_job(stock=STOCK)
    inch = replace(job, settings=replace(job.settings, units=DisplayUnit.INCH))
    layout = replace(LADDER, rails={"R1": Rail(x=0, y=90, length=200)})
    notes = {(p.tag, p.stock.split()[0]): p.note for p in pieces_of(inch, layout)}
    assert notes["R1", "rail"] == "first slot centre 0.49 in from the left end"
    assert notes["W1", "duct"].startswith("right wall, inches from the lower end, fingers off")
    assert "0.00 to 1.57 for W3" in notes["W1", "duct"]
    assert notes["W3", "cover"] == "cover of W3, 0.08 in shorter for 2 joints"


def test_ducts_with_slots_begin_alike_and_say_where_they_are_drilled(make_job: MakeJob) -> None:
    """Pitch 50, so the first slot at 25; a hole at 100 of the duct lies between 75 and 125."""
    slotted = replace(STOCK.ducts[0], slot_pitch=50, slot_length=15)
    job = make_job(stock=replace(STOCK, ducts=(slotted,)))
    duct = Duct(x=50, y=100, length=400, width=40, height=60, run=Run.ACROSS, stock="40x60")
    holes = {
        f"H{n}": Hole(x=50 + at, y=120, kind=HoleKind.TAPPED, size="M5", drill=4.2, holds="W1")
        for n, at in enumerate((25, 100, 230))
    }
    base, cover = pieces_of(job, Layout(ducts={"W1": duct}, holes=holes))
    assert base.step == 50
    assert base.note == (
        "first slot centre 25 mm from the left end; no slot at 100 mm from the left end: "
        "drill it there"
    )
    assert cover.step == 0
    plain, _ = pieces_of(make_job(stock=STOCK), Layout(ducts={"W1": duct}, holes=holes))
    assert plain.step == 0
    assert plain.note == "base drilled on its middle line at 25, 100, 230 mm from the left end"
    aside = {**holes, "H1": replace(holes["H1"], y=118.5)}
    plain, _ = pieces_of(make_job(stock=STOCK), Layout(ducts={"W1": duct}, holes=aside))
    assert "at 25, 100 (1.5 below it), 230 mm from the left end" in plain.note
