from dataclasses import replace

import pytest

from platewright.drawing.lettering import text_width, wrap
from platewright.drawing.picture import Line, Rect, Text
from platewright.drawing.table import (
    Column,
    Quantity,
    Table,
    file_heads,
    file_rows,
    length_text,
    printed_columns,
    printed_heads,
    thickness_text,
)
from platewright.drawing.table_print import PrintRow, PrintTable, flow, print_table
from platewright.model.geometry import Box
from platewright.model.job import DisplayUnit

TABLE = Table(
    title="Holes",
    columns=(
        Column(name="tag", head="Hole"),
        Column(name="x", head="x", quantity=Quantity.LENGTH),
        Column(name="drill", head="Drill", quantity=Quantity.NUMBER, unit="mm"),
        Column(name="note", head="Note", wraps=True),
    ),
    rows=(("H1", 382.5, 4.2, "on the edge"), ("H2", 600.0, 5.0, ""), ("H3", None, 5.0, "lost")),
)


def test_file_columns_name_their_unit():
    assert file_heads(TABLE, DisplayUnit.MM) == ("tag", "x_mm", "drill_mm", "note")
    assert file_heads(TABLE, DisplayUnit.INCH) == ("tag", "x_in", "drill_mm", "note")


def test_file_lengths_are_in_the_unit_of_their_column():
    # 25.4 mm an inch, exactly (international yard and pound agreement, 1959)
    assert file_rows(TABLE, DisplayUnit.MM)[0] == ("H1", 382.5, 4.2, "on the edge")
    assert file_rows(TABLE, DisplayUnit.INCH)[0][1] == pytest.approx(382.5 / 25.4, abs=5e-4)
    assert file_rows(TABLE, DisplayUnit.INCH)[2][1] is None


def test_numbers_of_one_printed_column_have_equal_decimals():
    assert printed_columns(TABLE, DisplayUnit.MM)[1] == ("382.5", "600.0", "–")
    assert printed_columns(TABLE, DisplayUnit.INCH)[1] == ("15.06", "23.62", "–")
    assert printed_heads(TABLE, DisplayUnit.INCH)[1] == "x, in"


def test_lengths_on_drawings():
    assert length_text(382.5, DisplayUnit.MM) == "382.5"
    assert length_text(600.0, DisplayUnit.MM) == "600"
    assert length_text(25.4, DisplayUnit.INCH) == "1.00"


def test_thickness_tells_gauges_apart():
    # steel gauges 12 and 13: 0.1046 and 0.0897 inch (manufacturers' standard gauge)
    assert thickness_text(0.1046 * 25.4, DisplayUnit.INCH) == "0.105"
    assert thickness_text(0.0897 * 25.4, DisplayUnit.INCH) == "0.090"
    assert thickness_text(2.657, DisplayUnit.MM) == "2.66"


def printed_words(pages):
    return [[p.text for p in page if isinstance(p, Text)] for page, _ in pages]


def test_rows_break_over_frames_under_a_repeated_head():
    rows = tuple((f"H{n}", float(n), 4.2, "note") for n in range(40))
    table = print_table(Table(title="", columns=TABLE.columns, rows=rows), DisplayUnit.MM)
    frames = [Box(0, 0, 120, 80)] * 10
    pages = flow(table, frames)
    words = printed_words(pages)
    assert len(words) > 1
    assert all(page[:2] == ["Hole", "x, mm"] for page in words)
    tags = [word for page in words for word in page if word.startswith("H") and word != "Hole"]
    assert tags == [f"H{n}" for n in range(40)]
    for page, height in pages:
        assert height <= 80
        assert all(0 <= p.at.y <= 80 for p in page if isinstance(p, Text))


def test_lettering_stays_inside_the_frame():
    rows = (("H1", 1.0, 4.2, "a long note that has to be broken into several lines of words"),)
    table = print_table(Table(title="", columns=TABLE.columns, rows=rows), DisplayUnit.MM)
    ((page, _),) = flow(table, [Box(10, 0, 80, 100)])
    from platewright.drawing.extent import extent

    box = extent(page)
    assert box.left >= 10 - 1e-6
    assert box.right <= 80 + 1e-6


def test_a_heading_stays_with_its_rows():
    from platewright.drawing.table_print import PrintRow, PrintTable

    rows = [PrintRow(cells=(f"H{n}", "")) for n in range(5)]
    rows.insert(4, PrintRow(cells=("Tool 2", ""), is_heading=True))
    table = PrintTable(
        heads=("Hole", "x"), to_right=(False, True), wraps=(True, False), rows=tuple(rows)
    )
    row_height = 2.5 * 2.2
    pages = flow(table, [Box(0, 0, 60, 6.2 * row_height)] * 3)
    first, second = printed_words(pages)
    assert "Tool 2" not in first
    assert "Tool 2" in second
    assert any(isinstance(p, Rect) for p in pages[1][0])


def test_rows_without_room_are_an_error_not_a_loss():
    table = print_table(TABLE, DisplayUnit.MM)
    with pytest.raises(ValueError, match="no room on paper"):
        flow(table, [Box(0, 0, 100, 12)])


def test_no_word_of_a_head_is_broken_where_a_longer_column_can_give_way():
    """Two columns that wrap, one with little in it: it keeps its head, the other wraps more."""
    long = "device silent: by the standard for its screw, to be chosen at the device " * 4
    made = PrintTable(
        heads=("Tag", "Screws", "By"), to_right=(False, False, False), wraps=(False, True, True),
        rows=(PrintRow(cells=("-K1", "terminals", long)),),
    )  # fmt: skip
    ((part, _),) = flow(made, [Box(0, 0, 90, 200)])
    words = {p.text for p in part if isinstance(p, Text)}
    assert {"Screws", "terminals"} <= words
    right = max(
        p.at.x + text_width(p.text, p.size, bold=p.bold) for p in part if isinstance(p, Text)
    )
    assert right <= 90


def test_a_table_narrower_than_its_words_still_fits_its_frame():
    made = PrintTable(
        heads=("Unbreakable", "Immeasurable"), to_right=(False, False), wraps=(True, True),
        rows=(PrintRow(cells=("a", "b")),),
    )  # fmt: skip
    ((part, _),) = flow(made, [Box(0, 0, 20, 200)])
    lines = [p for p in part if isinstance(p, Line)]
    assert max(line.end.x for line in lines) == pytest.approx(20)


def test_two_columns_that_wrap_share_their_room_so_that_the_table_is_low():
    """Against every way to share it out in steps of a millimetre."""
    long, short = "a reason told in rather many words " * 4, "a source of four words"
    table = PrintTable(
        heads=("Why", "Source"), to_right=(False, False), wraps=(True, True),
        rows=(PrintRow(cells=(long, short)), PrintRow(cells=("few words", f"{short} {short}"))),
    )  # fmt: skip
    ((_, height),) = flow(table, [Box(0, 0, 120, 200)])

    def high(first):
        one = replace(table, wraps=(False, False))
        cells = [
            ("\n".join(wrap(a, first - 2.2, 2.5)), "\n".join(wrap(b, 120 - first - 2.2, 2.5)))
            for a, b in (row.cells for row in one.rows)
        ]
        return sum(max(text.count("\n") + 1 for text in row) for row in cells)

    least = min(high(first) for first in range(20, 101))
    lines = (height - 3 * 2.5 * 2.2) / (2.5 * 1.65) + 2
    assert round(lines) == least
