import dataclasses

import pytest

from platewright.drawing.extent import extent, text_box
from platewright.drawing.paper import A3, A4
from platewright.drawing.picture import Arc, Polyline, Text
from platewright.model.job import Practice
from platewright.sheets.page import BLOCK_WIDTH, CAUTION, Leaf, framed, in_package, inside


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


@pytest.mark.parametrize("practice", list(Practice))
def test_the_projection_sign_obeys_the_law_it_stands_for(panel, practice):
    """The view beside the cone shows both circles whole, so it is the view of its small end.

    By the third angle a view stands on the side it is seen from, by the first on the far side
    (ISO 5456-2, ASME Y14.3); North America uses the third.
    """
    settings = dataclasses.replace(panel.job.settings, practice=practice)
    picture = framed(Leaf(paper=A3, scale="1:5", primitives=()), settings,
                     title="Cut list", number=1, of=1)  # fmt: skip
    (rings,) = {part.centre.x for part in picture.primitives if isinstance(part, Arc)}
    (cone,) = [
        part.points
        for part in picture.primitives
        if isinstance(part, Polyline) and part.layer == "BORDER"
    ]
    small_end = min(cone, key=lambda at: abs(at.y - sum(p.y for p in cone) / 4)).x
    large_end = max(cone, key=lambda at: abs(at.y - sum(p.y for p in cone) / 4)).x
    is_seen_from_the_left = small_end < large_end
    stands_at_the_left = rings < min(small_end, large_end)
    is_third = practice is Practice.NORTH_AMERICA
    assert (stands_at_the_left == is_seen_from_the_left) is is_third


def test_the_title_block_is_lettered_in_2_5_mm(panel):
    picture = in_package(page(panel), 127, 127)
    texts = [part for part in picture.primitives if isinstance(part, Text)]
    assert min(text.size for text in texts) >= 2.5
    boxes = [text_box(text) for text in texts]
    for index, one in enumerate(boxes):
        assert not any(one.overlaps(other) for other in boxes[index + 1 :])
