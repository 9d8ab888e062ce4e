"""Pages of lists: what goes on over a page says of what."""

import pytest

from platewright.drawing.paper import A4
from platewright.drawing.picture import Rect, Text
from platewright.drawing.table_print import PrintRow, PrintTable
from platewright.model.geometry import Box
from platewright.sheets.pager import Pager


def words(leaf):
    return [part.text for part in leaf.primitives if isinstance(part, Text)]


def rows_on(leaf):
    return [word for word in words(leaf) if word.isdecimal()]


def table(count):
    return PrintTable(
        heads=("No.",), to_right=(False,), wraps=(False,),
        rows=tuple(PrintRow(cells=(str(n),)) for n in range(count)),
    )  # fmt: skip


def test_a_table_that_goes_on_is_headed_again_on_every_page():
    pager = Pager(A4.turned)
    pager.heading("-X1")
    pager.table(table(100))
    pager.heading("-X2")
    pager.table(table(3))
    leaves = pager.leaves()
    assert len(leaves) == 3
    assert [words(leaf)[0] for leaf in leaves] == ["-X1", "-X1, continued", "-X1, continued"]
    assert sum(word.isdecimal() for leaf in leaves for word in words(leaf)) == 103


def test_a_table_without_a_heading_has_none_later():
    pager = Pager(A4.turned)
    pager.table(table(100))
    assert not any("continued" in word for leaf in pager.leaves() for word in words(leaf))


def test_pictures_that_go_on_are_headed_again():
    pager = Pager(A4.turned)
    pager.heading("duct 25x80: 9 bars")
    for _ in range(9):
        pager.picture((Rect(layer="BAR", box=Box(0, 0, 100, 40)),))
    leaves = pager.leaves()
    assert len(leaves) > 1
    assert all(words(leaf) == ["duct 25x80: 9 bars, continued"] for leaf in leaves[1:])


def levels(leaf, told):
    return [part.at.y for part in leaf.primitives if isinstance(part, Text) and part.text == told]


@pytest.mark.parametrize("rows", [1, 3, 4, 5, 6, 40])
@pytest.mark.parametrize("with_words", [False, True])
def test_a_heading_stands_over_three_rows_of_its_table_wherever_the_page_ends(rows, with_words):
    """All of them where the table has fewer than six: no rest of one or two rows overleaf."""
    turned = 0
    for before in range(20, 60):
        pager = Pager(A4.turned)
        for line in range(before):
            pager.paragraph(f"line {line}")
        pager.heading("In store")
        if with_words:
            pager.paragraph("What is left.")
        pager.table(table(rows))
        pages = pager.leaves()
        (at,) = (n for n, leaf in enumerate(pages) if "In store" in words(leaf))
        here = rows_on(pages[at])
        assert len(here) >= (rows if rows < 6 else 3)
        assert [row for leaf in pages for row in rows_on(leaf)] == [f"{n}" for n in range(rows)]
        if with_words:
            assert "What is left." in words(pages[at])
        for leaf in pages:
            assert all(
                p.at.y > pager.space.bottom - 2.5 for p in leaf.primitives if isinstance(p, Text)
            )
        turned += bool(at) and not any(word.startswith("line") for word in words(pages[at]))
    assert turned  # pages ended just there


def test_a_table_of_tall_rows_begins_where_one_of_them_has_room():
    """No half page is left empty above three rows of ten lines each."""
    tall = PrintTable(
        heads=("No.", "What"), to_right=(False, False), wraps=(False, True),
        rows=tuple(PrintRow(cells=(str(n), "\n".join(["words"] * 10))) for n in range(4)),
    )  # fmt: skip
    pager = Pager(A4.turned)
    for line in range(18):
        pager.paragraph(f"line {line}")
    pager.table(tall)
    first, second = pager.leaves()
    assert rows_on(first) == ["0", "1"]
    assert rows_on(second) == ["2", "3"]


def test_a_heading_goes_overleaf_with_its_picture():
    for before in range(20, 40):
        pager = Pager(A4.turned)
        for line in range(before):
            pager.paragraph(f"line {line}")
        pager.heading("bars")
        pager.picture((Rect(layer="BAR", box=Box(0, 0, 100, 40)),))
        (leaf,) = (leaf for leaf in pager.leaves() if "bars" in words(leaf))
        assert any(isinstance(part, Rect) for part in leaf.primitives)


def test_a_heading_inside_a_table_stays_with_three_of_its_rows():
    """Or with all of them, where it has fewer."""
    for first in range(6, 60):
        groups = ((first, "a"), (7, "b"), (2, "c"), (9, "d"))
        rows = [row for count, name in groups
                for row in (PrintRow(cells=(f"group {name}",), is_heading=True),
                            *(PrintRow(cells=(f"{name}{n}",)) for n in range(count)))]  # fmt: skip
        pager = Pager(A4.turned)
        pager.table(PrintTable(heads=("No.",), to_right=(False,), wraps=(True,), rows=tuple(rows)))
        pages = [words(leaf) for leaf in pager.leaves()]
        told = [word for page in pages for word in page if word != "No."]
        assert told == [row.cells[0] for row in rows]
        for count, name in groups:
            (page,) = (page for page in pages if f"group {name}" in page)
            assert sum(word in page for word in (f"{name}{n}" for n in range(count))) >= min(
                3, count
            )


@pytest.mark.parametrize("over", [1, 2])
def test_a_last_page_is_not_there_for_a_row_or_two(over):
    """Rows are handed on until three stand on the last page; none is lost, their order stays."""
    pager = Pager(A4)
    pager.table(table(500))
    first = rows_on(pager.leaves()[0])
    pager = Pager(A4)
    pager.table(table(len(first) + over))
    pages = [rows_on(leaf) for leaf in pager.leaves()]
    assert [len(page) for page in pages] == [len(first) + over - 3, 3]
    assert [row for page in pages for row in page] == [f"{n}" for n in range(len(first) + over)]
