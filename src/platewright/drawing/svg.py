"""SVG in mm with real text."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import groupby

from platewright.drawing.flatten import baseline, flat
from platewright.drawing.lettering import CAPITAL, FAMILY, text_width
from platewright.drawing.numbers import fixed
from platewright.drawing.picture import (
    Arc,
    Circle,
    Line,
    Picture,
    Polyline,
    Primitive,
    Rect,
    Text,
)
from platewright.drawing.styles import LayerStyle, style_of
from platewright.foundation.units import Mm, Ratio
from platewright.model.geometry import Point


def write_svg(picture: Picture) -> bytes:
    """Return the picture as an SVG file. One user unit is one mm."""
    left, width, height = fixed(picture.left), fixed(picture.width), fixed(picture.height)
    top = picture.bottom + picture.height
    size = f'width="{width}mm" height="{height}mm" viewBox="{left} 0 {width} {height}"'
    fonts = f"'{FAMILY}', 'Source Sans 3', Arial, sans-serif"
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} xml:space="preserve" font-family="{fonts}">',
        f"<title>{escaped(picture.title)}</title>",
        f'<rect x="{left}" width="{width}" height="{height}" fill="#ffffff"/>',
    ]
    for layer, members in groupby(flat(picture), key=lambda primitive: primitive.layer):
        lines.append(_group(layer, members, top))
    return ("\n".join(lines) + "\n</svg>\n").encode()


def escaped(text: str) -> str:
    """Return text that XML reads back as it was; characters XML forbids become a box."""
    legal = "".join(char if char.isprintable() else "□" for char in text)
    for char, entity in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;")):
        legal = legal.replace(char, entity)
    return legal


def _group(layer: str, members: Iterable[Primitive], top: Mm) -> str:
    style = style_of(layer)
    pen = (
        f'stroke="{_grey(style.grey)}" stroke-width="{fixed(style.pen, 2)}"'
        if style.pen
        else 'stroke="none"'
    )
    dash = f' stroke-dasharray="{" ".join(fixed(d, 2) for d in style.dash)}"' if style.dash else ""
    body = "\n".join(_element(member, style, top) for member in members)
    return (
        f'<g data-layer="{layer}" fill="none" {pen}{dash} stroke-linecap="round" '
        f'stroke-linejoin="round">\n{body}\n</g>'
    )


def _flipped(point: Point, top: Mm) -> tuple[str, str]:
    """Return x and y as SVG counts them: y down. The only flip of this writer."""
    return fixed(point.x), fixed(top - point.y)


def _grey(share: Ratio) -> str:
    return "#" + f"{round(share * 255):02x}" * 3


def _fill(style: LayerStyle) -> str:
    if style.fill is None:
        return ""
    return f' fill="{style.tint or _grey(style.fill)}"'


def _element(primitive: Primitive, style: LayerStyle, top: Mm) -> str:
    match primitive:
        case Line(start=start, end=end):
            (x1, y1), (x2, y2) = _flipped(start, top), _flipped(end, top)
            return f'<line x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"/>'
        case Polyline(points=points, closed=closed):
            name, fill = ("polygon", _fill(style)) if closed else ("polyline", "")
            places = " ".join(",".join(_flipped(point, top)) for point in points)
            return f'<{name} points="{places}"{fill}/>'
        case Rect(box=box):
            x, y = _flipped(Point(box.left, box.top), top)
            size = f'width="{fixed(box.width)}" height="{fixed(box.height)}"'
            return f'<rect x="{x}" y="{y}" {size}{_fill(style)}/>'
        case Circle(centre=centre, radius=radius):
            x, y = _flipped(centre, top)
            return f'<circle cx="{x}" cy="{y}" r="{fixed(radius)}"{_fill(style)}/>'
        case Arc():
            return _arc(primitive, top)
        case Text():
            return _text(primitive, style, top)
        case _:
            raise TypeError(f"{primitive} was not taken apart")


def _arc(arc: Arc, top: Mm) -> str:
    def on(angle: float) -> Point:
        turn = math.radians(angle)
        return Point(
            arc.centre.x + arc.radius * math.cos(turn), arc.centre.y + arc.radius * math.sin(turn)
        )

    (x1, y1), (x2, y2) = _flipped(on(arc.start), top), _flipped(on(arc.end), top)
    large = int((arc.end - arc.start) % 360 > 180)
    radius = fixed(arc.radius)
    return f'<path d="M {x1} {y1} A {radius} {radius} 0 {large} 0 {x2} {y2}"/>'


def _text(text: Text, style: LayerStyle, top: Mm) -> str:
    x, y = _flipped(baseline(text), top)
    turn = f' transform="rotate({fixed(-text.rotation, 1)} {x} {y})"' if text.rotation else ""
    weight = ' font-weight="600"' if text.bold else ""
    # textLength keeps the room of the lettering where the font is not installed
    length = fixed(text_width(text.text, text.size, bold=text.bold))
    return (
        f'<text x="{x}" y="{y}" font-size="{fixed(text.size / CAPITAL)}" '
        f'text-anchor="{text.anchor}" fill="{_grey(style.grey)}" stroke="none"{weight} '
        f'textLength="{length}" lengthAdjust="spacingAndGlyphs"{turn}>'
        f"{escaped(text.text)}</text>"
    )
