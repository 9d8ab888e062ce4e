"""The drawing of two revisions: what changed lies on top, its arrow beside its tag."""

import dataclasses

from platewright.drawing.extent import extent, text_box
from platewright.drawing.picture import Polyline, Rect, Text
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
