"""PDF at true size: one page a picture, lettering embedded, the same bytes for the same pictures."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any, Final

from reportlab.lib.colors import HexColor
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from platewright.drawing.flatten import baseline, flat
from platewright.drawing.lettering import (
    BOLD,
    BOX_ADVANCE,
    CAPITAL,
    DIAMETER_ADVANCE,
    REGULAR,
    advance,
    font_bytes,
    runs,
    text_width,
)
from platewright.drawing.picture import (
    Anchor,
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
from platewright.foundation.units import MM_PER_INCH, Mm

POINTS_PER_MM: Final = 72 / MM_PER_INCH


def write_pdf(pictures: Sequence[Picture], *, title: str = "", author: str = "") -> bytes:
    """Return the pictures as the pages of one PDF file. Viewers are told not to scale it."""
    _register_fonts()
    out = io.BytesIO()
    canvas = Canvas(out, invariant=1, pageCompression=1)
    canvas.setTitle(title)
    canvas.setAuthor(author)
    canvas.setCreator("platewright")
    canvas.setViewerPreference("PrintScaling", "None")
    for picture in pictures:
        canvas.setPageSize((picture.width * POINTS_PER_MM, picture.height * POINTS_PER_MM))
        canvas.scale(POINTS_PER_MM, POINTS_PER_MM)
        canvas.translate(-picture.left, -picture.bottom)
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        for primitive in flat(picture):
            _draw(canvas, primitive)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _register_fonts() -> None:
    known = set(pdfmetrics.getRegisteredFontNames())
    for name in (REGULAR, BOLD):
        if name not in known:
            pdfmetrics.registerFont(TTFont(name, io.BytesIO(font_bytes(name))))


def _draw(canvas: Any, primitive: Primitive) -> None:
    style = style_of(primitive.layer)
    if isinstance(primitive, Text):
        _draw_text(canvas, primitive, style)
        return
    canvas.setStrokeGray(style.grey)
    canvas.setLineWidth(style.pen)
    canvas.setDash(list(style.dash))
    stroke = int(style.pen > 0)
    fill = int(style.fill is not None)
    if style.tint:
        canvas.setFillColor(HexColor(style.tint))
    elif style.fill is not None:
        canvas.setFillGray(style.fill)
    match primitive:
        case Line(start=start, end=end):
            canvas.line(start.x, start.y, end.x, end.y)
        case Polyline(points=points, closed=closed):
            path = canvas.beginPath()
            path.moveTo(points[0].x, points[0].y)
            for point in points[1:]:
                path.lineTo(point.x, point.y)
            if closed:
                path.close()
            canvas.drawPath(path, stroke=stroke, fill=fill if closed else 0)
        case Rect(box=box):
            canvas.rect(box.left, box.bottom, box.width, box.height, stroke=stroke, fill=fill)
        case Circle(centre=centre, radius=radius):
            canvas.circle(centre.x, centre.y, radius, stroke=stroke, fill=fill)
        case Arc(centre=centre, radius=radius, start=start_at, end=end_at):
            canvas.arc(
                centre.x - radius,
                centre.y - radius,
                centre.x + radius,
                centre.y + radius,
                start_at,
                (end_at - start_at) % 360,
            )
        case _:
            raise TypeError(f"{primitive} was not taken apart")


def _draw_text(canvas: Any, text: Text, style: LayerStyle) -> None:
    start = baseline(text)
    em = text.size / CAPITAL
    width = text_width(text.text, text.size, bold=text.bold)
    shift = {Anchor.LEFT: 0.0, Anchor.CENTRE: width / 2, Anchor.RIGHT: width}[text.anchor]
    canvas.saveState()
    canvas.translate(start.x, start.y)
    if text.rotation:
        canvas.rotate(text.rotation)
    canvas.setFillGray(style.grey)
    canvas.setStrokeGray(style.grey)
    canvas.setLineWidth(text.size * 0.09)
    canvas.setDash([])
    canvas.setFont(BOLD if text.bold else REGULAR, em)
    x = -shift
    for kind, run in runs(text.text):
        if kind == "font":
            canvas.drawString(x, 0, run)
            x += sum(advance(char, bold=text.bold) for char in run) * em
            continue
        for _ in run:
            x += _draw_sign(canvas, kind, x, text.size)
    canvas.restoreState()


def _draw_sign(canvas: Any, kind: str, x: Mm, size: Mm) -> Mm:
    """Draw a sign that the font lacks and return how far it moves the pen."""
    em = size / CAPITAL
    if kind == "diameter":
        middle, radius = x + DIAMETER_ADVANCE * em / 2, size * 0.42
        canvas.circle(middle, size / 2, radius, stroke=1, fill=0)
        reach = size * 0.5
        canvas.line(middle - reach, size / 2 - reach, middle + reach, size / 2 + reach)
        return DIAMETER_ADVANCE * em
    inset = BOX_ADVANCE * em * 0.12
    canvas.rect(x + inset, 0, BOX_ADVANCE * em - 2 * inset, size, stroke=1, fill=0)
    return BOX_ADVANCE * em
