"""PDF measured from outside: rendered to pixels by pypdfium2, read by pypdf."""

import io

import pypdfium2
import pytest
from pypdf import PdfReader

from platewright.drawing.pdf import write_pdf
from platewright.drawing.picture import Arc, Circle, Line, Picture, Polyline, Rect, Text
from platewright.model.geometry import Box, Point

DPI = 600
PIXEL = 25.4 / DPI  # mm


def page(*primitives, width=210.0, height=297.0):
    return Picture(width=width, height=height, title="page", primitives=primitives)


def rendered(data, dpi=DPI):
    document = pypdfium2.PdfDocument(data)
    try:
        return document[0].render(scale=dpi / 72, grayscale=True).to_numpy().copy()
    finally:
        document.close()


def test_page_sizes_are_those_of_the_pictures():
    data = write_pdf([page(), page(width=420.0, height=297.0)])
    reader = PdfReader(io.BytesIO(data))
    sizes = [tuple(float(v) * 25.4 / 72 for v in p.mediabox[2:]) for p in reader.pages]
    assert sizes == [pytest.approx((210, 297)), pytest.approx((420, 297))]


def test_a_hundred_mm_measure_a_hundred_mm_both_ways():
    # tolerance: two pixels of the rendering, one at each end
    ink = page(Rect(layer="WASTE", box=Box(40, 50, 140, 150)), width=200.0, height=200.0)
    dark = rendered(write_pdf([ink])) < 240
    rows, columns = dark.any(axis=1).nonzero()[0], dark.any(axis=0).nonzero()[0]
    pen = 0.25
    assert (columns[-1] - columns[0] + 1) * PIXEL == pytest.approx(100 + pen, abs=2 * PIXEL)
    assert (rows[-1] - rows[0] + 1) * PIXEL == pytest.approx(100 + pen, abs=2 * PIXEL)
    assert columns[0] * PIXEL == pytest.approx(40 - pen / 2, abs=2 * PIXEL)
    assert rows[0] * PIXEL == pytest.approx(50 - pen / 2, abs=2 * PIXEL)  # 200 - 150


def test_pens_are_as_wide_as_the_table_says():
    ink = page(Line(layer="FRAME", start=Point(10, 10), end=Point(10, 40)), width=50, height=50)
    dark = rendered(write_pdf([ink]), 1200) < 128
    assert dark[1200].sum() * 25.4 / 1200 == pytest.approx(0.7, abs=2 * 25.4 / 1200)


def test_capitals_are_as_high_as_asked():
    ink = page(Text(layer="TAG", at=Point(10, 20), text="HHH", size=5.0), width=50, height=40)
    rows = (rendered(write_pdf([ink])) < 128).any(axis=1).nonzero()[0]
    assert (rows[-1] - rows[0] + 1) * PIXEL == pytest.approx(5.0, abs=2 * PIXEL)
    assert (rows[-1] + rows[0] + 1) / 2 * PIXEL == pytest.approx(20.0, abs=2 * PIXEL)


def test_words_are_real_text_and_the_font_is_embedded():
    data = write_pdf([page(Text(layer="TAG", at=Point(10, 10), text="-K1 ≤ 4.2 µΩ", size=2.5))])
    reader = PdfReader(io.BytesIO(data))
    assert "-K1 ≤ 4.2 µΩ" in reader.pages[0].extract_text()
    fonts = reader.pages[0]["/Resources"]["/Font"]
    described = [f.get_object() for f in fonts.values() if "/FontDescriptor" in f.get_object()]
    assert described
    assert all("/FontFile2" in f["/FontDescriptor"] for f in described)


@pytest.mark.parametrize("char", ["中", "⌀", "\x07"])
def test_a_character_without_glyph_leaves_ink(char):
    text = Text(layer="TAG", at=Point(10, 20), text=char, size=5.0)
    assert (rendered(write_pdf([page(text, width=40, height=40)]), 200) < 128).any()


def test_viewers_are_told_not_to_scale():
    reader = PdfReader(io.BytesIO(write_pdf([page()])))
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_every_shape_is_drawn_and_bytes_repeat():
    shapes = (
        Circle(layer="HOLE-TAP", centre=Point(20, 20), radius=4),
        Polyline(layer="DEVICE", points=(Point(1, 1), Point(9, 1), Point(5, 8)), closed=True),
        Arc(layer="BORDER", centre=Point(30, 30), radius=5, start=0, end=90),
        Text(layer="TAG", at=Point(10, 35), text="-K1", size=2.5, rotation=90),
    )
    data = write_pdf([page(*shapes, width=50, height=50)], title="t", author="a")
    assert data == write_pdf([page(*shapes, width=50, height=50)], title="t", author="a")
    assert (rendered(data, 150) < 128).sum() > 300
