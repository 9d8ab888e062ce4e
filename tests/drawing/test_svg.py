"""SVG read back by the hardened XML parser."""

import pytest
from defusedxml import ElementTree

from platewright.drawing.picture import Arc, Circle, Line, Picture, Rect, Text
from platewright.drawing.svg import write_svg
from platewright.model.geometry import Box, Point

NS = {"s": "http://www.w3.org/2000/svg"}
HOSTILE = [
    "<script>alert(1)</script>",
    '"/><text>',
    "a & b < c > d",
    "]]>&lt;",
    "{\\C1;}%%c^J",
    "Ω ≤ 中文",
]


def picture(*primitives, **more):
    return Picture(width=100, height=50, title="a plate", primitives=primitives, **more)


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_words_are_read_back_as_words(words):
    text = Text(layer="TAG", at=Point(10, 10), text=words, size=2.5)
    root = ElementTree.fromstring(write_svg(picture(text)))
    assert [node.text for node in root.iter("{http://www.w3.org/2000/svg}text")] == [words]
    assert root.find(".//s:script", NS) is None


def test_control_characters_become_visible():
    text = Text(layer="TAG", at=Point(0, 0), text="a\x00b\x1bc", size=2.5)
    root = ElementTree.fromstring(write_svg(picture(text)))
    assert root.find(".//s:text", NS).text == "a□b□c"


def test_a_hostile_title_is_escaped():
    shown = Picture(width=1, height=1, title="</title><script>", primitives=())
    root = ElementTree.fromstring(write_svg(shown))
    assert root.find("s:title", NS).text == "</title><script>"


def test_one_unit_is_one_mm_and_y_points_up():
    line = Line(layer="PLATE", start=Point(0, 0), end=Point(100, 50))
    root = ElementTree.fromstring(write_svg(picture(line)))
    assert (root.get("width"), root.get("height")) == ("100.000mm", "50.000mm")
    assert root.get("viewBox") == "0.000 0 100.000 50.000"
    node = root.find(".//s:line", NS)
    assert (node.get("y1"), node.get("y2")) == ("50.000", "0.000")


def test_a_picture_may_start_left_of_and_below_nought():
    circle = Circle(layer="HOLE-TAP", centre=Point(0, 0), radius=1)
    root = ElementTree.fromstring(write_svg(picture(circle, left=-20.0, bottom=-10.0)))
    assert root.get("viewBox") == "-20.000 0 100.000 50.000"
    node = root.find(".//s:circle", NS)
    assert (node.get("cx"), node.get("cy")) == ("0.000", "40.000")


def test_there_is_no_minus_nought():
    box = Rect(layer="DUCT", box=Box(-0.0, -0.00001, 5, 5))
    assert b"-0.000" not in write_svg(picture(box))


def test_an_arc_keeps_its_ends():
    arc = Arc(layer="BORDER", centre=Point(50, 25), radius=10, start=0, end=270)
    root = ElementTree.fromstring(write_svg(picture(arc)))
    words = root.find(".//s:path", NS).get("d").split()
    assert words[1:3] == ["60.000", "25.000"]
    assert words[7] == "1"  # the long way round
    assert words[9:] == ["50.000", "35.000"]


def test_the_same_picture_gives_the_same_bytes():
    text = Text(layer="TAG", at=Point(3, 4), text="-K1", size=2.5)
    assert write_svg(picture(text)) == write_svg(picture(text))
