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
