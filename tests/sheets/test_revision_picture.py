"""The drawing of two revisions: what changed lies on top, its arrow beside its tag."""

import dataclasses
from dataclasses import replace

import pytest

from platewright.drawing.extent import extent, text_box
from platewright.drawing.picture import Circle, Line, Polyline, Rect, Text
from platewright.model.layout import HoleState
from platewright.sheets.revision import changes, revision_picture


def moved(panel, tag, **to):
    devices = {**panel.layout.devices, tag: dataclasses.replace(panel.layout.devices[tag], **to)}
    return dataclasses.replace(panel, layout=dataclasses.replace(panel.layout, devices=devices))


def drawn(panel, after):
    return revision_picture(panel, after, changes(panel, after))


def test_a_device_moved_onto_another_is_not_hidden_by_it(panel):
    onto = panel.layout.devices["-T1"]
    parts = drawn(panel, moved(panel, "-X3", x=onto.x + 10, y=onto.y + 10))
    grey = [n for n, p in enumerate(parts) if isinstance(p, Rect) and p.layer == "WASTE"]
    plain = [n for n, p in enumerate(parts) if isinstance(p, Rect) and p.layer == "GHOST"]
    assert len(grey) == 1
    assert grey[0] > max(plain)


def test_the_arrow_runs_beside_the_tag(panel):
    at = panel.layout.devices["-T1"]
    for step in ({"x": at.x + 60}, {"y": at.y + 60}):
        parts = drawn(panel, moved(panel, "-T1", **step))
        (tag,) = [p for p in parts if isinstance(p, Text) and p.text == "-T1"]
        arrows = [p for p in parts if isinstance(p, Polyline) and p.layer == "ARROW"]
        assert arrows
        assert not any(text_box(tag).overlaps(extent((arrow,))) for arrow in arrows)


def boxes_of_signs(parts):
    return [extent((p,)) for p in parts if isinstance(p, Circle)]


@pytest.mark.parametrize("apart", [0.5, 2.0, 6.0, 12.0])
def test_tags_of_holes_lie_apart_from_each_other_and_from_all_signs(panel, apart):
    """Every hole was drilled, is left over, and has its successor a little to the right."""
    holes, n = {}, len(panel.layout.holes)
    for number, (tag, hole) in enumerate(panel.layout.holes.items(), start=1):
        holes[tag] = replace(hole, state=HoleState.DRILLED, holds="")
        holes[f"H{n + number}"] = replace(hole, x=hole.x + apart, state=HoleState.PLANNED)
    after = replace(panel, layout=replace(panel.layout, holes=holes))
    parts = drawn(panel, after)
    tags = [p for p in parts if isinstance(p, Text) and p.layer == "HOLE-TAG"]
    words = [text_box(p) for p in parts if isinstance(p, Text)]
    for index, one in enumerate(words):
        assert not any(one.overlaps(other) for other in words[index + 1 :])
    for tag in tags:
        assert not any(text_box(tag).overlaps(sign) for sign in boxes_of_signs(parts))
    assert len(tags) == len({p.text for p in tags})
    assert len(tags) >= 0.9 * len(holes)  # the rest has no room: it stands in the list


def test_a_tag_that_stands_off_is_tied_to_its_own_hole(panel):
    holes = {}
    for number, tag in enumerate(sorted(panel.layout.holes)[:1]):
        at = panel.layout.holes[tag]
        holes |= {f"H{900 + number + n}": replace(at, x=200 + 6.0 * (n % 4), y=500 + 6.0 * (n // 4),
                                                  state=HoleState.PLANNED)
                  for n in range(16)}  # fmt: skip
    bare = replace(panel, layout=replace(panel.layout, holes={}))
    after = replace(panel, layout=replace(panel.layout, holes=holes))
    parts = drawn(bare, after)
    tags = [p for p in parts if isinstance(p, Text) and p.layer == "HOLE-TAG"]
    leaders = [p for p in parts if isinstance(p, Line) and p.layer == "HOLE-TAG"]
    sign = min(box.width for box in boxes_of_signs(parts))
    assert leaders
    for tag in tags:
        hole = holes[tag.text].centre
        tied = any(line.start == hole and text_box(tag).distance_to(line.end) < 0.2 * tag.size
                   for line in leaders)  # fmt: skip
        assert tied or text_box(tag).distance_to(hole) <= sign + 0.2 * tag.size, tag.text


def test_tags_of_a_rail_and_of_the_devices_on_it_lie_apart_and_off_signs(panel):
    """All moves by 2 mm, holes with it: nearly every thing bears its tag, none on another's."""
    layout = panel.layout
    shifted = {
        table: {tag: replace(one, x=one.x + 2) for tag, one in getattr(layout, table).items()}
        for table in ("devices", "rails", "ducts")
    }
    holes = {tag: replace(hole, x=hole.x + 40) for tag, hole in layout.holes.items()}
    after = replace(panel, layout=replace(layout, **shifted, holes=holes))
    parts = drawn(panel, after)
    words = [text_box(p) for p in parts if isinstance(p, Text)]
    for index, one in enumerate(words):
        assert not any(one.overlaps(other) for other in words[index + 1 :])
        assert not any(one.overlaps(sign) for sign in boxes_of_signs(parts))
    named = {p.text for p in parts if isinstance(p, Text) and p.layer == "TAG"}
    assert named <= {*layout.devices, *layout.rails, *layout.ducts}
    assert {"-T1", *layout.rails} <= named
