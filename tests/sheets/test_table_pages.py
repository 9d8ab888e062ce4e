"""A table beside a drawing: no page for a few rows, no large page for what a small one holds."""

import pytest

from platewright.drawing.paper import A3, A4
from platewright.drawing.picture import Text
from platewright.drawing.table_print import PrintRow, PrintTable
from platewright.sheets.arrangement import arrange_page, table_frames, table_pages

WIDTH = 86.0


def table(count):
    return PrintTable(
        heads=("Hole", "Holds"), to_right=(False, False), wraps=(False, True),
        rows=tuple(PrintRow(cells=(f"H{n}", "R1")) for n in range(count)),
    )  # fmt: skip


def told(primitives):
    """Return the holes printed, without the heads."""
    return [p.text for p in primitives if isinstance(p, Text) and p.text[1:].isdecimal()
            and p.text.startswith("H")]  # fmt: skip


@pytest.fixture
def page(panel):
    return arrange_page(panel.job.settings, measure=lambda _: (100.0, 100.0), table_width=WIDTH)


def most(page):
    """How many rows fit beside the drawing: 2.5 mm lettering, 2.2 of its height a row, a head."""
    frames = table_frames(page, WIDTH)
    first = next(frames)
    return int(first.height / (2.5 * 2.2)) - 1


def test_one_row_too_many_is_taken_in_by_rows_a_little_closer(page, panel):
    count = most(page) + 1
    beside, further = table_pages(page, WIDTH, table(count), panel.job.settings)
    assert not further
    assert told(beside) == [f"H{n}" for n in range(count)]
    full, _ = table_pages(page, WIDTH, table(count - 1), panel.job.settings)
    for parts, pitch in ((beside, 1.9), (full, 2.2)):
        assert {p.size for p in parts if isinstance(p, Text)} == {2.5}
        levels = sorted({p.at.y for p in parts if isinstance(p, Text)})
        assert levels[1] - levels[0] == pytest.approx(pitch * 2.5)


def test_a_rest_goes_on_the_smallest_paper_that_takes_no_more_pages(page, panel):
    assert page.paper == A3
    count = 2 * most(page)
    beside, (rest,) = table_pages(page, WIDTH, table(count), panel.job.settings)
    assert rest.paper == A4.turned
    assert told(beside) + told(rest.primitives) == [f"H{n}" for n in range(count)]
    _, (large,) = table_pages(page, WIDTH, table(4 * most(page) + 8), panel.job.settings)
    assert large.paper == A3


def test_a_larger_scale_is_taken_where_words_lie_on_each_other_and_only_then(panel):
    def page(clear):
        return arrange_page(
            panel.job.settings, measure=lambda scale: (1200.0 / scale, 900.0 / scale),
            table_width=WIDTH, is_clear=lambda scale: scale in clear,
        )  # fmt: skip

    usual = page({1, 2, 3, 4, 5})
    assert (usual.scale, usual.paper) == (5, A3)
    assert page({1, 2, 3, 4}).scale == 4
    assert page({2}).scale == 2
    assert page({2}).paper.width > A3.width
    assert page(set()) == usual  # nothing is gained by larger paper
