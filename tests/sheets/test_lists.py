"""Cut list, wire list, findings, side view: what must be on them is on them."""

import dataclasses
from itertools import combinations, pairwise

import pytest

from platewright.drawing.extent import text_box
from platewright.drawing.picture import Rect, Text
from platewright.model.finding import Verdict
from platewright.model.job import DisplayUnit
from platewright.model.offcut import Offcut
from platewright.model.pieces import Bar, Piece
from platewright.sheets.cut_list import BAR_HEIGHT, PAST_END, bar_picture, cut_table
from platewright.sheets.finding_groups import in_order, measured_words, numbered, tags_words
from platewright.sheets.finding_list import finding_table
from platewright.sheets.registry import listings, sheets
from platewright.sheets.wire_list import wire_table, wire_totals


def words_of(pictures):
    return [p.text for picture in pictures for p in picture.primitives if isinstance(p, Text)]


def test_every_piece_is_listed_and_belongs_to_a_rail_or_duct(panel, findings):
    rows = cut_table(panel, findings).rows
    things = {**panel.layout.ducts, **panel.layout.rails}
    assert sorted(row[1] for row in rows) == sorted(things)
    for _, tag, length, *_ in rows:
        assert things[tag].length == length


def test_the_cut_list_tells_room_to_edges_and_fixing_circles(panel, findings):
    """D1 stands 10 mm off the left and lower edge; covers lie on their ducts and have none."""
    table = cut_table(panel, findings)
    names = [column.name for column in table.columns]
    rows = {(r[0].split()[0], r[1]): dict(zip(names, r, strict=True)) for r in table.rows}
    assert rows["duct", "D1"]["edge"] == 10
    assert rows["rail", "R2"]["edge"] == 55  # its left end
    plate = panel.job.settings.plate
    box = panel.layout.ducts["D6"].box
    assert rows["duct", "D6"]["edge"] == pytest.approx(plate.height - box.top)
    circles = [
        box.distance_to(hole.centre) - hole.keep_out / 2 for hole in plate.fixing_holes
    ]  # fmt: skip
    assert rows["duct", "D6"]["fixing_circle"] == pytest.approx(min(circles))
    words = [
        p.text
        for page in sheets()["cuts"].draw(panel, findings)
        for p in page.primitives
        if isinstance(p, Text)
    ]
    assert any("grow" in word for word in words)


def test_thick_wires_are_told_with_the_duct_they_leave(panel, findings):
    (number,) = [n for n, r in panel.routes.wires.items() if r.stretches][:1]
    thick = dataclasses.replace(panel, outer_diameters={number: 11.0})
    duct = panel.routes.wires[number].stretches[0].duct
    notes = {row[1]: row[-1] for row in cut_table(thick, findings).rows if "duct" in row[0]}
    assert "a finger out for thick wires at" in notes[duct]
    assert f"({number}: ⌀11)" in notes[duct]
    assert not any("finger out" in row[-1] for row in cut_table(panel, findings).rows)


def test_a_bar_is_drawn_to_scale_with_its_cuts(panel):
    bar = panel.cuts.bars[0]
    stock = panel.job.settings.stock
    scale = 0.08
    parts = list(bar_picture(panel, bar, "bar 1", scale))
    whole, *pieces = [p.box for p in parts if isinstance(p, Rect)]
    assert whole.width == pytest.approx(bar.length * scale)
    assert [box.width / scale for box in pieces] == pytest.approx([p.length for p in bar.pieces])
    gaps = [(b.left - a.right) / scale for a, b in pairwise(pieces)]
    assert gaps == pytest.approx([stock.kerf] * len(gaps))
    assert pieces[0].left / scale == pytest.approx(stock.end_trim)
    assert all(box.height == BAR_HEIGHT for box in pieces)


def test_the_first_piece_of_a_bar_takes_one_cut_though_slots_ask_for_more_than_the_trim(panel):
    """Trim 5, slots every 25: the piece begins at 25, and no cut is made at 5."""
    whole = panel.cuts.bars[0]
    piece = dataclasses.replace(whole.pieces[0], length=300.0, step=25.0)
    bar = dataclasses.replace(whole, pieces=(piece, piece), trim=5.0, kerf=3.0, length=1000.0)
    parts = list(bar_picture(panel, bar, "bar 1", 0.1))
    told = [p.text for p in parts if isinstance(p, Text) and p.layer == "DIM"]
    assert told == ["25", "325", "350", "650"]


def test_numbers_at_the_end_of_a_bar_stay_inside_the_page(panel):
    """Short pieces last: their numbers and tags are moved back, apart from each other."""
    lengths = (1500.0, 300.0, 70.0, 60.0, 50.0)
    pieces = tuple(Piece(tag=f"R{n}", stock="rail", length=long) for n, long in enumerate(lengths))
    bar = Bar(stock="rail", length=2000.0, pieces=pieces, rest=5.0, trim=0.0, kerf=3.0)
    scale = 150 / 2000
    texts = [p for p in bar_picture(panel, bar, "bar 1", scale) if isinstance(p, Text)]
    boxes = [text_box(text) for text in texts]
    assert max(box.right for box in boxes) <= 150 + PAST_END + 1e-6
    assert not any(one.overlaps(other) for one, other in combinations(boxes, 2))
    assert {"1500", "1803", "1876", "1939", "1992"} <= {text.text for text in texts}


def test_an_off_cut_is_drawn_with_the_cut_to_its_first_slot(panel):
    """Where its slots lie nobody knows: up to one pitch is lost, and lengths count from there."""
    whole = panel.cuts.bars[0]
    piece = dataclasses.replace(whole.pieces[0], length=300.0, step=25.0)
    bar = dataclasses.replace(
        whole, pieces=(piece,), trim=0.0, kerf=3.0, length=600.0, offcut="K1", lost=25.0, rest=272.0
    )
    parts = list(bar_picture(panel, bar, "K1", 0.1))
    _, drawn = [p.box for p in parts if isinstance(p, Rect)]
    assert (drawn.left, drawn.right) == pytest.approx((2.5, 32.5))
    told = [p.text for p in parts if isinstance(p, Text) and p.layer == "DIM"]
    assert told == ["slot: 0", "300"]
    assert "left at least 272" in [p.text for p in parts if isinstance(p, Text)]
    plain = dataclasses.replace(bar, pieces=(dataclasses.replace(piece, step=0.0),), lost=0.0)
    _, drawn = [p.box for p in bar_picture(panel, plain, "K1", 0.1) if isinstance(p, Rect)]
    assert drawn.left == 0  # a cover has no slots: its end is cut as it is


def test_off_cuts_come_first_and_what_is_left_bears_its_label(panel, findings):
    """The list of the store after cutting has the columns of the list that is read."""
    old, new = panel.cuts.bars[0], panel.cuts.bars[2]
    store = Offcut(label="A9", stock="rail TH35-7.5", length=700.0)
    cuts = dataclasses.replace(
        panel.cuts,
        bars=(
            dataclasses.replace(new, rest_label="EX-1"),
            dataclasses.replace(old, stock=new.stock, offcut="A7", trim=0.0),
        ),
        bounds=((new.stock, 1, 0),),
        unused=(store,),
    )
    cut = dataclasses.replace(panel, cuts=cuts)
    words = words_of(sheets()["cuts"].draw(cut, findings))
    assert words.index("A7") < words.index("bar 1")
    told = " ".join(words)
    assert f"{new.stock}: 1 new bar, at least 0 would be needed, gap 1: not proven; 1" in told
    assert "off-cut from the store" in told
    assert any(word.endswith(": EX-1") for word in words)
    narrow = bar_picture(panel, dataclasses.replace(new, rest_label="EX-1"), "bar 1", 15 / new.rest)
    told = [p.text for p in narrow if isinstance(p, Text)]
    assert "EX-1" in told  # 15 mm of grey: the label alone
    assert not any(word.startswith("left") for word in told)
    table = listings()["offcuts"].make(cut, findings)
    assert table.rows == (("A9", "rail TH35-7.5", 700.0), ("EX-1", new.stock, new.rest))


def test_pieces_too_long_are_told(panel, findings):
    piece = dataclasses.replace(panel.cuts.bars[0].pieces[0], tag="D99", length=2600.0)
    cuts = dataclasses.replace(panel.cuts, too_long=(piece,))
    words = " ".join(
        words_of(sheets()["cuts"].draw(dataclasses.replace(panel, cuts=cuts), findings))
    )
    assert "cannot be cut in one piece: D99" in words


def test_every_wire_is_listed_in_the_order_of_the_job(panel, findings):
    rows = wire_table(panel, findings).rows
    assert [row[0] for row in rows] == [wire.number for wire in panel.job.wires]
    for row, wire in zip(rows, panel.job.wires, strict=True):
        route = panel.routes.wires[wire.number]
        assert row[1:3] == (str(wire.start), str(wire.end))
        assert row[-1] == (route.cut if route.is_routed else None)


def test_a_wire_without_a_way_is_told_not_dropped(panel, findings):
    words = words_of(sheets()["wires"].draw(panel, findings))
    assert "Without a way, cut to measure at the panel: 13" in words
    assert any("no way" in word for word in words)


def test_wire_to_draw_is_all_that_is_cut(panel, findings):
    rows = wire_totals(panel, findings).rows
    assert sum(row[-1] for row in rows) == pytest.approx(panel.routes.total_cut)
    assert sum(row[-2] for row in rows) == sum(r.is_routed for r in panel.routes.wires.values())


def test_findings_stand_worst_first(findings):
    order = [finding.verdict for finding in in_order(findings)]
    assert order == [
        Verdict.FAIL, Verdict.CAUTION, Verdict.UNDECIDED, Verdict.PASS, Verdict.PASS,
    ]  # fmt: skip


def test_the_order_findings_come_in_changes_nothing(panel, findings):
    draw = sheets()["findings"].draw
    assert draw(panel, findings) == draw(panel, findings[::-1])


def test_each_finding_is_told_with_source_and_cure(panel, findings):
    words = " ".join(words_of(sheets()["findings"].draw(panel, findings)))
    for finding in findings:
        if finding.verdict is not Verdict.PASS:
            assert finding.message in words
            assert finding.headline in words
            assert finding.cure in words
            assert str(finding.source) in words
    assert "1 FAIL, 1 CAUTION, 1 UNDECIDED, 2 passed" in words


def test_findings_that_say_the_same_share_a_number_and_lose_no_subject(panel, findings):
    tags = [f"-K{n}" for n in range(4, 8)]
    undecided = next(f for f in findings if f.verdict is Verdict.UNDECIDED)
    same = tuple(
        dataclasses.replace(undecided, subject=tag, message=f"{tag}: its heat is not stated")
        for tag in tags
    )
    groups = numbered(findings + same)
    assert [len(group) for group in groups] == [1, 1, 5]
    rows = [row for row in finding_table(panel, findings + same).rows if row[3] in tags]
    assert [row[0] for row in rows if row[1] == "UNDECIDED"] == [3, 3, 3, 3]
    words = " ".join(words_of(sheets()["findings"].draw(panel, findings + same)))
    assert "-K4 to -K7: its heat is not stated" in words
    assert f"-B9: {undecided.message}" in words
    own = dataclasses.replace(undecided, subject="-K9", message="-K9 has no heat")
    told = " ".join(words_of(sheets()["findings"].draw(panel, (*findings, own))))
    assert "-K9 has no heat" in told
    assert "-K9: -K9" not in told


def test_what_fails_is_told_one_by_one_and_what_is_open_by_rule(panel, findings):
    """40 devices, each open in words of its own: one row, no tag lost, three told in full."""
    (failed,) = (f for f in findings if f.verdict is Verdict.FAIL)
    (undecided,) = (f for f in findings if f.verdict is Verdict.UNDECIDED)
    many = [
        dataclasses.replace(one, subject=f"-K{2 * n}", message=f"part {n} says nothing")
        for one in (failed, undecided)
        for n in range(100, 140)
    ]
    assert sorted(len(group) for group in numbered(tuple(many))) == [1] * 40 + [40]
    only = tuple(f for f in many if f.verdict is Verdict.UNDECIDED)
    pages = sheets()["findings"].draw(panel, only)
    words = " ".join(words_of(pages))
    assert all(f"-K{2 * n}" in words for n in range(100, 140))
    assert words.count("says nothing") == 3
    assert len(pages) == 1


def test_a_group_of_thousands_stays_on_its_page(panel, findings):
    (undecided,) = (f for f in findings if f.verdict is Verdict.UNDECIDED)
    many = tuple(
        dataclasses.replace(undecided, subject=f"-K{2 * n}", message=f"part {n} says nothing")
        for n in range(3000)
    )
    words = " ".join(words_of(sheets()["findings"].draw(panel, many)))
    assert "more" in words


@pytest.mark.parametrize(
    ("tags", "words"),
    [
        (["-K3", "-K1", "-K2"], "-K1 to -K3"),
        (["-K1", "-K2", "-Q1"], "-K1, -K2, -Q1"),
        (["-K9", "-K10", "-K11", "-K13"], "-K9 to -K11, -K13"),
        (["-K01", "-K02", "-K03"], "-K01, -K02, -K03"),
        (["plate"], "plate"),
    ],
)
def test_tags_that_follow_each_other_are_told_by_their_ends(tags, words):
    assert tags_words(tags) == words


def test_a_failed_rule_cannot_be_read_as_kept(findings):
    heads = {f.verdict: f.headline for f in findings}
    assert heads[Verdict.FAIL] == "Not kept: envelopes do not overlap"
    assert heads[Verdict.CAUTION] == "Not fully kept: clear space is kept"
    assert heads[Verdict.UNDECIDED] == "Open: data are stated"
    assert heads[Verdict.PASS] == "Envelopes do not overlap"


def test_temperatures_are_told_as_sharply_as_their_bands(findings):
    one = dataclasses.replace(findings[0], measured=66.7681, limit=60.0, unit="°C")
    assert measured_words((one,), DisplayUnit.MM) == ("66.8 °C", "60.0 °C")
    two = dataclasses.replace(one, measured=68.0)
    assert measured_words((one, two), DisplayUnit.MM) == ("66.8 to\n68.0 °C", "60.0 °C")
    length = dataclasses.replace(one, measured=12.125, unit="mm")
    assert measured_words((length,), DisplayUnit.MM)[0] == "12.125 mm"
    assert measured_words((length,), DisplayUnit.INCH) == ("0.477 in", "2.362 in")  # / 25.4


def test_passed_findings_are_kept_in_the_list(panel, findings):
    rows = finding_table(panel, findings).rows
    assert len(rows) == len(findings)


def test_side_view_tells_the_room_in_front(panel, findings):
    words = words_of(sheets()["elevation"].draw(panel, findings))
    # by hand: door at 232, -P1 75 deep in front of -T2 (118 deep): 232 - 75 - 118 = 39
    assert "-T2  reaches 118, 39 to -P1" in words
    # -T1 is 132 deep with a cover of 12, nothing on the door before it: 232 - 144 = 88
    assert "-T1  reaches 144, 88 to the door" in words


@pytest.mark.parametrize("name", ["layout", "elevation", "cuts", "holes", "wires", "findings"])
def test_a_job_without_layout_prints_and_says_so(bare_panel, name):
    words = " ".join(words_of(sheets()[name].draw(bare_panel, ())))
    assert "yet" in words or "Nothing was checked" in words


def test_lists_of_a_job_without_layout_are_heads_and_known_rows(bare_panel):
    for listing in listings().values():
        table = listing.make(bare_panel, ())
        assert all(len(row) == len(table.columns) for row in table.rows)
