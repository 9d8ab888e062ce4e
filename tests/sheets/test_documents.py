"""All files of a job: complete, readable, the same each time, hostile words harmless."""

import csv
import dataclasses
import io

import openpyxl
import pytest
from defusedxml import ElementTree
from pypdf import PdfReader

from platewright.drawing.table import file_heads
from platewright.sheets.documents import document, documents
from platewright.sheets.registry import listings, sheets


@pytest.fixture(scope="module")
def files(panel, findings):
    return documents(panel, findings)


def test_every_sheet_and_list_has_its_files(files):
    for name in sheets():
        assert f"{name}.pdf" in files
        assert f"{name}-1.svg" in files
    for name in listings():
        assert {f"{name}.csv", f"{name}.xlsx"} <= set(files)
    assert {"layout.dxf", "package.pdf"} <= set(files)


def test_pages_of_the_package_are_numbered_through(files):
    pages = PdfReader(io.BytesIO(files["package.pdf"])).pages
    for number, page in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in page.extract_text()
    alone = PdfReader(io.BytesIO(files["cuts.pdf"])).pages[0].extract_text()
    assert "page 1 of" not in alone


def test_the_package_holds_all_pages(files):
    pages = {name: len(PdfReader(io.BytesIO(files[f"{name}.pdf"])).pages) for name in sheets()}
    assert len(PdfReader(io.BytesIO(files["package.pdf"])).pages) == sum(pages.values())
    for name, count in pages.items():
        assert sum(file.startswith(f"{name}-") and file.endswith(".svg") for file in files) == count


def test_the_same_panel_gives_the_same_bytes(panel, findings, files):
    assert documents(panel, findings) == files


def test_a_file_made_alone_is_the_one_among_all(panel, findings, files):
    pages = sum(name.startswith("holes-") and name.endswith(".svg") for name in files)
    for name in ("package.pdf", "holes.pdf", "layout-1.svg", f"holes-{pages}.svg", "layout.dxf"):
        assert document(panel, findings, name) == files[name], name
    for name in (
        f"holes-{pages + 1}.svg",
        "holes-0.svg",
        "holes-01.svg",
        "holes.svg",
        "none-1.svg",
    ):
        assert document(panel, findings, name) is None, name


def test_csv_and_xlsx_say_the_same(panel, findings, files):
    unit = panel.job.settings.units
    for name, listing in listings().items():
        rows = list(csv.reader(io.StringIO(files[f"{name}.csv"].decode(), newline="")))
        book = openpyxl.load_workbook(io.BytesIO(files[f"{name}.xlsx"]))
        cells = [
            ["" if v is None else f"{v:g}" if isinstance(v, int | float) else v for v in row]
            for row in book.active.iter_rows(values_only=True)
        ]
        assert cells == rows
        assert tuple(rows[0]) == file_heads(listing.make(panel, findings), unit)


def test_hostile_words_of_a_job_do_no_harm(panel, findings):
    bad = '<script>"&\x01=1+1{\\C1;}%%d'
    job = panel.job
    settings = dataclasses.replace(
        job.settings, job=dataclasses.replace(job.settings.job, title=bad, owner=bad)
    )
    devices = {bad if tag == "-Q1" else tag: d for tag, d in job.devices.items()}
    layout = dataclasses.replace(
        panel.layout,
        devices={bad if t == "-Q1" else t: at for t, at in panel.layout.devices.items()},
    )
    job = dataclasses.replace(job, settings=settings, devices=devices)
    files = documents(dataclasses.replace(panel, job=job, layout=layout), findings)
    for name, content in files.items():
        if name.endswith(".svg"):
            root = ElementTree.fromstring(content)
            assert all("script" not in node.tag for node in root.iter())
        if name.endswith(".pdf"):
            assert PdfReader(io.BytesIO(content)).pages


def test_a_date_nobody_can_read_does_not_stop_the_files(panel, findings):
    settings = panel.job.settings
    title = dataclasses.replace(settings.job, date="next Tuesday")
    job = dataclasses.replace(panel.job, settings=dataclasses.replace(settings, job=title))
    assert documents(dataclasses.replace(panel, job=job), findings)["devices.xlsx"]


def test_a_job_without_layout_gives_all_files_but_the_picture_of_temperature(bare_panel, files):
    made = documents(bare_panel, ())
    assert {n for n in made if not n.endswith(".svg")} | {"temperatures.png"} == {
        n for n in files if not n.endswith(".svg")
    }
    assert not [n for n in made if n.startswith("temperatures")]
