"""PNG of a picture: its PDF, drawn by pdfium. The same bytes for the same picture and pdfium."""

from __future__ import annotations

import io
import threading
from typing import Final

from platewright.drawing.pdf import POINTS_PER_MM, write_pdf
from platewright.drawing.picture import Picture
from platewright.foundation.units import MM_PER_INCH

PER_MM: Final = 8.0  # dots (203 per inch): 1.8 mm lettering stays legible
_ONE: Final = threading.Lock()  # pdfium serves one thread at a time


def write_png(picture: Picture, *, per_mm: float = PER_MM) -> bytes:
    """Return the picture as a PNG file with so many dots a millimetre."""
    import pypdfium2  # noqa: PLC0415  (slow to load)

    with _ONE:
        paper = pypdfium2.PdfDocument(write_pdf((picture,)))
        try:
            image = paper[0].render(scale=per_mm / POINTS_PER_MM).to_pil()
        finally:
            paper.close()
    out = io.BytesIO()
    per_inch = per_mm * MM_PER_INCH
    image.save(out, "PNG", dpi=(per_inch, per_inch))
    return out.getvalue()
