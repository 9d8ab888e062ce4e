"""Laws of every page: all on the paper, no lettering on other lettering or over the frame."""

import pytest

from platewright.drawing.extent import extent, text_box
from platewright.drawing.flatten import flat
from platewright.drawing.picture import Text
from platewright.model.geometry import Box
from platewright.sheets.registry import sheets

NAMES = [
    "layout", "elevation", "traveler", "cuts", "off-cuts", "holes", "template", "fasteners",
    "wires", "torques", "purchase", "findings", "heat",
]  # fmt: skip


def lettering(page):
    return [(part.text, text_box(part)) for part in flat(page) if isinstance(part, Text)]


@pytest.fixture(params=["panel", "inch_panel", "bare_panel"])
def any_panel(request):
    return request.getfixturevalue(request.param)


@pytest.mark.parametrize("name", NAMES)
def test_nothing_lies_beyond_the_paper(any_panel, findings, name):
    for page in sheets()[name].draw(any_panel, findings):
        box = extent(page.primitives)
        assert min(box.left, box.bottom) >= 0
        assert box.right <= page.width
        assert box.top <= page.height


@pytest.mark.parametrize("name", NAMES)
def test_no_lettering_lies_on_other_lettering(any_panel, findings, name):
    for page in sheets()[name].draw(any_panel, findings):
        boxes = sorted(lettering(page), key=lambda item: item[1].left)
        for index, (words, box) in enumerate(boxes):
            for other_words, other in boxes[index + 1 :]:
                if other.left > box.right:
                    break
                assert not box.overlaps(other), (words, other_words)


@pytest.mark.parametrize("name", NAMES)
def test_no_lettering_crosses_the_frame(any_panel, findings, name):
    for page in sheets()[name].draw(any_panel, findings):
        frame = Box(20, 10, page.width - 10, page.height - 10)
        for words, box in lettering(page):
            inside = (
                box.left >= frame.left
                and box.right <= frame.right
                and box.bottom >= frame.bottom
                and box.top <= frame.top
            )
            assert inside or not box.overlaps(frame), words
