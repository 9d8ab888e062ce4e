"""Names of rails and ducts on the plate drawing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

from platewright.drawing.extent import text_box
from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Anchor, Polyline, Primitive, Text
from platewright.drawing.spread import spread
from platewright.drawing.table import length_text
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.layout import Run
from platewright.model.panel import Panel, body_box
from platewright.sheets.lettering_rules import PITCH, fitted
from platewright.sheets.rail_footprint import rail_box

ABOVE: Final = 0.85  # middle of a name above the line it stands on, in heights
AIR: Final = 0.5  # each side of a rail's name, in heights of its lettering


def duct_words(panel: Panel, tag: str) -> str:
    """Return a duct's tag and what it is cut from."""
    duct, unit = panel.layout.ducts[tag], panel.job.settings.units
    size = f"{length_text(duct.width, unit)}×{length_text(duct.height, unit)}"
    return f"{tag}  {duct.stock or size}"


def rail_names(panel: Panel, lettering: Mm, taken: Sequence[Box]) -> dict[str, Text | None]:
    """Return each rail's name where it fits in its place; ``None``: it stands at its ordinate."""
    found = {tag: _on_rail(panel, tag, lettering) for tag in panel.layout.rails}
    return {
        tag: text
        if text is not None and not any(text_box(text).overlaps(other) for other in taken)
        else None
        for tag, text in found.items()
    }


def at_ordinates(panel: Panel, names: Mapping[str, Text | None]) -> dict[Mm, str]:
    """Return the rails without a name in place by level, from left to right."""
    found: dict[Mm, list[tuple[Mm, str]]] = {}
    for tag, rail in panel.layout.rails.items():
        if rail.run is Run.ACROSS and names[tag] is None:
            found.setdefault(rail.y, []).append((rail.x, tag))
    return {y: " ".join(tag for _, tag in sorted(named)) for y, named in found.items()}


def duct_names(panel: Panel, lettering: Mm, taken: Sequence[Box]) -> Iterator[Primitive]:
    """Yield the names of ducts: in the duct where there is room, else beside the plate."""
    yield from _upright_ducts(panel, lettering)
    led = []
    for tag, duct in panel.layout.ducts.items():
        if duct.run is Run.ACROSS:
            text = _in_duct(duct.box, duct_words(panel, tag), lettering, taken)
            if text is None:
                led.append((Point(duct.box.right, duct.box.centre.y), duct_words(panel, tag)))
            else:
                yield text
    yield from _in_margin(panel, led, lettering)


def _in_duct(box: Box, words: str, size: Mm, taken: Sequence[Box]) -> Text | None:
    """Return a name in a duct, as near its middle as other lettering lets it."""
    text = fitted(words, box, size)
    if text is None or text.rotation:
        return None
    room = (box.width - text_width(words, size)) / 2 - size
    steps = max(0, int(room // size))
    for step in sorted(range(-steps, steps + 1), key=lambda step: (abs(step), step)):
        moved = replace(text, at=Point(box.centre.x + step * size, box.centre.y))
        around = text_box(moved).grown(0.4 * size, 0.2 * size, 0.4 * size, 0.2 * size)
        if not any(around.overlaps(other) for other in taken):
            return moved
    return None


def _in_margin(panel: Panel, named: list[tuple[Point, str]], lettering: Mm) -> Iterator[Primitive]:
    """Yield the names of ducts too narrow for them at the right of the plate, on leaders."""
    named.sort(key=lambda item: (item[0].y, item[1]))
    edge = panel.job.settings.plate.width + 0.6 * lettering
    levels = spread([point.y for point, _ in named], PITCH * lettering)
    for (point, words), level in zip(named, levels, strict=True):
        end = edge + 1.0 * lettering
        yield Polyline(
            layer="ARROW",
            points=(
                point,
                Point(point.x + lettering, point.y + lettering / 6),
                Point(point.x + lettering, point.y - lettering / 6),
            ),
            closed=True,
        )
        yield Polyline(layer="TAG", points=(point, Point(edge, point.y), Point(end, level)))
        yield Text(layer="TAG", at=Point(end + 0.3 * lettering, level), text=words, size=lettering)


def _on_rail(panel: Panel, tag: str, size: Mm) -> Text | None:
    """Return the name above the axis where no body hides the rail, else behind its end.

    Behind its end only where the leader of its ordinate comes past other devices.
    """
    rail = panel.layout.rails[tag]
    foot = rail_box(rail)
    if rail.run is not Run.ACROSS:
        return fitted(tag, foot, size)
    need = text_width(tag, size) + 2 * AIR * size
    bodies = [
        body
        for name, at in panel.layout.devices.items()
        if (body := body_box(panel.job.part_of(name), at)).overlaps(foot)
    ]
    hidden = sorted((body.left, body.right) for body in bodies)
    reached = foot.left
    free: list[tuple[Mm, Mm]] = []
    for left, right in [*hidden, (foot.right, foot.right)]:
        free.append((min(left, foot.right) - reached, reached))
        reached = max(reached, right)
    room, start = max(free, default=(0.0, 0.0))
    if room >= need:
        at = Point(start + room / 2, (rail.y + foot.top) / 2)
        return Text(layer="TAG", at=at, text=tag, size=size, anchor=Anchor.CENTRE)
    is_led_past_others = any(
        body_box(panel.job.part_of(name), at).overlaps(Box(0.0, foot.bottom, foot.left, foot.top))
        for name, at in panel.layout.devices.items()
    )
    return _right_of_rail(panel, tag, size) if is_led_past_others else None


def _right_of_rail(panel: Panel, tag: str, size: Mm) -> Text | None:
    """Return the name just right of the rail's end, where no leader comes past other devices."""
    rail = panel.layout.rails[tag]
    foot = rail_box(rail)
    far = foot.right + size + text_width(tag, size)
    uprights = [duct.box for duct in panel.layout.ducts.values() if duct.run is Run.UPRIGHT]
    if any(box.left < far and box.right > foot.right for box in uprights):
        return None
    at = Point(foot.right + 0.9 * size, rail.y)
    text = Text(layer="TAG", at=at, text=tag, size=size)
    inside = text_box(text).right < panel.job.settings.plate.width - size
    return text if inside and _stands_free(panel, tag, text) else None


def _stands_free(panel: Panel, tag: str, text: Text) -> bool:
    """Tell whether a rail's name lies on no other rail and on no device."""
    box = text_box(text)
    others = [rail_box(other) for name, other in panel.layout.rails.items() if name != tag]
    others += [
        body_box(panel.job.part_of(name), place) for name, place in panel.layout.devices.items()
    ]
    return not any(box.overlaps(other) for other in others)


def _upright_ducts(panel: Panel, lettering: Mm) -> Iterator[Primitive]:
    """Yield names of upright ducts where no leader crosses them."""
    levels = {
        level
        for duct in panel.layout.ducts.values()
        if duct.run is Run.ACROSS
        for level in (duct.box.bottom, duct.box.centre.y, duct.box.top)
    }
    over = (ABOVE + 0.6) * lettering  # a rail's name may stand on its leader
    for rail in panel.layout.rails.values():
        if rail.run is Run.ACROSS:
            levels |= {rail.y, rail.y + over}
    for tag, duct in panel.layout.ducts.items():
        if duct.run is Run.UPRIGHT:
            box = duct.box
            inside = {y for y in levels if box.contains(Point(box.left, y))}
            crossed = sorted({box.bottom, box.top} | inside)
            _, low, high = max((b - a, a, b) for a, b in pairwise(crossed))
            free = Box(box.left, low, box.right, high)
            words = duct_words(panel, tag)
            text = fitted(words, free, lettering)
            if text is not None:
                yield text
