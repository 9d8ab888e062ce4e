"""Every file that the bench gets, as bytes. Writing them to a folder is the app's business."""

from __future__ import annotations

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
    if kind == "pdf" and stem in sheets():
        from platewright.drawing.pdf import write_pdf  # noqa: PLC0415  (slow to load)

        job, sheet = panel.job.settings.job, sheets()[stem]
        title = f"{job.title}: {sheet.title}"
        return write_pdf(sheet.draw(panel, findings), title=title, author=job.owner)
    if kind in ("csv", "xlsx") and stem in listings():
        return _lists(panel, findings, only=stem)[name]
    if name == "layout.dxf":
        return _dxf(panel)
    if stem == HEAT_PICTURE:
        return heat_files(panel, heat_of(panel), only=f".{kind}").get(name)
    if name == "package.pdf" or (kind == "svg" and stem.rpartition("-")[0] in sheets()):
        return _printed(panel, findings).get(name)
    return programs(panel, findings).get(name)


def _printed(panel: Panel, findings: Findings) -> dict[str, bytes]:
    from platewright.drawing.pdf import write_pdf  # noqa: PLC0415  (slow to load)
    from platewright.drawing.svg import write_svg  # noqa: PLC0415

    job = panel.job.settings.job
    files: dict[str, bytes] = {}
    package: list[Picture] = []
    for name, sheet in sheets().items():
        pictures = sheet.draw(panel, findings)
        package += pictures
        title = f"{job.title}: {sheet.title}"
        files[f"{name}.pdf"] = write_pdf(pictures, title=title, author=job.owner)
        for number, picture in enumerate(pictures, start=1):
            files[f"{name}-{number}.svg"] = write_svg(picture)
    package = [
        in_package(picture, number, len(package)) for number, picture in enumerate(package, start=1)
    ]
    files["package.pdf"] = write_pdf(package, title=job.title, author=job.owner)
    return files


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
