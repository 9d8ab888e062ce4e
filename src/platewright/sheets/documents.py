"""Every file that the bench gets, as bytes. Writing them to a folder is the app's business."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Final

from platewright.drawing.picture import Picture
from platewright.drawing.table import file_heads, file_rows
from platewright.heat.panel_heat import heat_of
from platewright.model.panel import Panel
from platewright.sheets.bench_programs import programs
from platewright.sheets.heat_picture import HEAT_PICTURE, heat_files
from platewright.sheets.layout import plate_at_scale
from platewright.sheets.page import in_package
from platewright.sheets.registry import Findings, listings, sheets

PACKAGE: Final = "package.pdf"
NO_DATE: Final = date(2000, 1, 1)  # stands in file properties where the job states none


def documents(panel: Panel, findings: Findings) -> dict[str, bytes]:
    """Return file names and contents: sheets as PDF and SVG, lists as CSV and XLSX, DXF, programs.

    The picture of temperature is there as SVG and PNG. ``package.pdf`` holds all sheets. The same
    panel and findings give the same bytes.
    """
    return {
        **_printed(panel, findings),
        **_lists(panel, findings),
        **heat_files(panel, heat_of(panel)),
        "layout.dxf": _dxf(panel),
        **programs(panel, findings),
    }


def document(panel: Panel, findings: Findings, name: str) -> bytes | None:
    """Return one of the ``documents`` alone; ``None``: there is none of this name."""
    stem, _, kind = name.rpartition(".")
    sheet, _, number = stem.rpartition("-")
    if kind == "pdf" and stem in sheets():
        return _pdf(panel, stem, sheets()[stem].draw(panel, findings))
    if kind == "svg" and sheet in sheets():
        from platewright.drawing.svg import write_svg  # noqa: PLC0415  (slow to load)

        pages = dict(enumerate(sheets()[sheet].draw(panel, findings), start=1))
        return next((write_svg(p) for n, p in pages.items() if str(n) == number), None)
    if name == PACKAGE:
        drawn = [sheet.draw(panel, findings) for sheet in sheets().values()]
        return _package(panel, [picture for pictures in drawn for picture in pictures])
    if kind in ("csv", "xlsx") and stem in listings():
        return _lists(panel, findings, only=stem)[name]
    if name == "layout.dxf":
        return _dxf(panel)
    if stem == HEAT_PICTURE:
        return heat_files(panel, heat_of(panel), only=f".{kind}").get(name)
    return programs(panel, findings).get(name)


def _printed(panel: Panel, findings: Findings) -> dict[str, bytes]:
    from platewright.drawing.svg import write_svg  # noqa: PLC0415  (slow to load)

    files: dict[str, bytes] = {}
    package: list[Picture] = []
    for name, sheet in sheets().items():
        pictures = sheet.draw(panel, findings)
        package += pictures
        files[f"{name}.pdf"] = _pdf(panel, name, pictures)
        for number, picture in enumerate(pictures, start=1):
            files[f"{name}-{number}.svg"] = write_svg(picture)
    files[PACKAGE] = _package(panel, package)
    return files


def _pdf(panel: Panel, name: str, pictures: Sequence[Picture]) -> bytes:
    from platewright.drawing.pdf import write_pdf  # noqa: PLC0415  (slow to load)

    job = panel.job.settings.job
    return write_pdf(pictures, title=f"{job.title}: {sheets()[name].title}", author=job.owner)


def _package(panel: Panel, pictures: Sequence[Picture]) -> bytes:
    """Return all sheets as one file, their pages numbered through."""
    from platewright.drawing.pdf import write_pdf  # noqa: PLC0415  (slow to load)

    job = panel.job.settings.job
    numbered = [in_package(one, n, len(pictures)) for n, one in enumerate(pictures, start=1)]
    return write_pdf(numbered, title=job.title, author=job.owner)


def _lists(panel: Panel, findings: Findings, only: str = "") -> dict[str, bytes]:
    from platewright.drawing.spreadsheet import write_csv, write_xlsx  # noqa: PLC0415

    unit = panel.job.settings.units
    made_on = _made_on(panel.job.settings.job.date)
    files: dict[str, bytes] = {}
    for name, entry in listings().items():
        if only and name != only:
            continue
        table = entry.make(panel, findings)
        heads, rows = file_heads(table, unit), file_rows(table, unit)
        files[f"{name}.csv"] = write_csv(heads, rows)
        files[f"{name}.xlsx"] = write_xlsx(entry.title, heads, rows, made_on=made_on)
    return files


def _dxf(panel: Panel) -> bytes:
    from platewright.drawing.dxf import write_dxf  # noqa: PLC0415

    return write_dxf(plate_at_scale(panel))


def _made_on(written: str) -> date:
    try:
        return date.fromisoformat(written)
    except ValueError:
        return NO_DATE
