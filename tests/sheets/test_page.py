import pytest

from platewright.drawing.extent import extent
from platewright.drawing.paper import A3, A4
from platewright.drawing.picture import Text
from platewright.sheets.page import BLOCK_WIDTH, CAUTION, Leaf, framed, inside


def words_of(picture):
    return [part.text for part in picture.primitives if isinstance(part, Text)]


def page(panel, paper=A3, number=2, of=5):
    leaf = Leaf(paper=paper, scale="1:5", primitives=())
    return framed(leaf, panel.job.settings, title="Cut list", number=number, of=of)


def test_the_title_block_says_what_iso_7200_asks_for(panel):
    words = words_of(page(panel))
    job = panel.job.settings.job
    for field in (job.owner, job.title, job.number, job.revision, job.date, job.drawn_by):
        assert field in words
    assert "Cut list" in words  # document type
    assert "2 / 5" in words
    assert "1:5" in words


def test_the_caution_stands_on_every_page(panel):
    words = " ".join(words_of(page(panel, A4.turned)))
    for word in CAUTION.split():
        assert word in words


def test_an_empty_field_is_a_dash_not_nothing(panel):
    assert "–" in words_of(page(panel))  # nobody has checked the fixture


def test_frame_keeps_the_filing_edge_and_block_is_180_wide():
    # ISO 5457: 20 mm at the left, 10 mm elsewhere; ISO 7200: block 180 mm wide
    space = inside(A4.turned)
    assert (space.left, space.bottom, 210 - space.right, 297 - space.top) == (20, 10, 10, 10)
    assert space.width == BLOCK_WIDTH == 180


def test_nothing_lies_beyond_the_paper(panel):
    for paper in (A3, A4.turned):
        box = extent(page(panel, paper).primitives)
        assert box.left >= 0
        assert box.bottom >= 0
        assert box.right <= paper.width
        assert box.top <= paper.height


@pytest.mark.parametrize("title", ["W" * 300, "a very long name of a job " * 12])
def test_a_title_too_long_is_cut_visibly_inside_its_field(panel_titled, title):
    picture = page(panel_titled(title))
    (shown,) = [w for w in words_of(picture) if w.startswith(title[:5])]
    assert shown.endswith("…")


def test_characters_without_glyph_are_told_on_the_page(panel_titled):
    words = " ".join(words_of(page(panel_titled("Anlage 中"))))
    assert "U+4E2D" in words
