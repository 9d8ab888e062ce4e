"""Laws of the job folder: what is written reads back the same; the order of rows changes nothing."""

from __future__ import annotations

import random
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import cache
from itertools import zip_longest
from pathlib import Path
from typing import Any

import pytest
from annotated_types import Ge, Gt, Le
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import platewright.jobfile
from platewright.foundation.errors import InputErrors
from platewright.jobfile.columns import Column, Kind, columns_of
from platewright.jobfile.csv_style import CsvStyle
from platewright.jobfile.folder import read_job, write_devices, write_parts, write_wires
from platewright.jobfile.layout_file import DECIMALS, read_layout, write_layout
from platewright.jobfile.quantities import read_names, written_names
from platewright.jobfile.settings import settings_from
from platewright.jobfile.settings_write import settings_text, write_settings
from platewright.jobfile.tables_csv import read_table
from platewright.jobfile.tables_write import table_bytes
from platewright.jobfile.toml_values import parse, read_record
from platewright.model.device import Device
from platewright.model.job import JobSettings
from platewright.model.layout import Layout
from platewright.model.part import Part
from platewright.model.wire import End, SizeSystem, Wire, WireSize

EXAMPLE = Path(platewright.jobfile.__file__).parent / "example"
QUICK = settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow])
FEW = settings(QUICK, max_examples=15)

# any text a file can hold: no NUL (told as no text), no lone surrogates
letters = st.characters(exclude_characters="\0\ufeff", exclude_categories=["Cs"])
texts = st.text(letters, max_size=12)
cells = texts.map(str.strip)  # the reader takes spaces round a cell for chance
names = st.text(
    st.characters(exclude_characters=":\0\ufeff", exclude_categories=["Cs", "Z", "C"]),
    min_size=1,
    max_size=6,
).filter(lambda name: ".." not in name and len(name.split()) == 1)
sizes = st.one_of(
    st.sampled_from(["1/0", "2/0", "3/0", "4/0", *map(str, range(1, 31))]).map(
        lambda number: WireSize(number, SizeSystem.AWG)
    ),
    st.floats(0.01, 999).map(lambda area: WireSize(f"{area:.6g}", SizeSystem.MM2)),
)


def numbers(column: Column, *, decimals: int | None) -> st.SearchStrategy[float]:
    low, high = -1e6, 1e6
    for limit in column.limits:
        match limit:
            case Gt() | Ge():
                low = limit.gt if isinstance(limit, Gt) else limit.ge
                low = low + 0.001 if isinstance(limit, Gt) else low
            case Le():
                high = limit.le
    found = st.floats(low, high).map(lambda value: value + 0.0)
    return found if decimals is None else found.map(lambda value: max(low, round(value, decimals)))


def values(column: Column, *, toml: bool, decimals: int | None) -> st.SearchStrategy[Any]:
    inner = column.record
    match column.kind:
        case Kind.NUMBER:
            found: st.SearchStrategy[Any] = numbers(column, decimals=decimals)
        case Kind.WHOLE:
            return st.just(column.default)
        case Kind.YES_NO:
            return st.booleans()
        case Kind.CHOICE:
            kind = enums(column)
            found = st.sampled_from(list(kind))
        case Kind.NAMES:
            found = st.lists(names, unique=True, max_size=6).map(tuple)
        case Kind.END:
            found = st.builds(End, names, names)
        case Kind.SIZE:
            found = sizes
        case Kind.RECORD:
            return records(inner, toml=toml, decimals=decimals)
        case Kind.RECORDS:
            return st.lists(records(inner, toml=toml, decimals=decimals), max_size=3).map(tuple)
        case Kind.MAP:
            value = records(inner, toml=toml, decimals=decimals) if inner else texts
            return st.dictionaries(texts.filter(bool), value, max_size=4)
        case _:
            found = texts if toml else cells
            if column.needed or column.default is None:
                found = found.filter(bool)
    return found if column.default is not None or column.needed else st.none() | found


@cache
def _enums() -> dict[tuple[str, ...], type]:
    from enum import StrEnum

    import platewright.model.device
    import platewright.model.job
    import platewright.model.layout
    import platewright.model.part

    found = {}
    for module in (
        platewright.model.device,
        platewright.model.job,
        platewright.model.layout,
        platewright.model.part,
    ):
        for each in vars(module).values():
            if isinstance(each, type) and issubclass(each, StrEnum) and each is not StrEnum:
                found[tuple(str(word) for word in each)] = each
    return found


def enums(column: Column) -> type:
    return _enums()[column.choices]


def records(
    record: type, *, toml: bool = False, decimals: int | None = None
) -> st.SearchStrategy[Any]:
    return st.builds(
        record,
        **{
            column.field: values(column, toml=toml, decimals=decimals)
            for column in columns_of(record)
        },
    )


styles = st.builds(
    CsvStyle,
    delimiter=st.sampled_from([",", ";", "\t"]),
    newline=st.sampled_from(["\n", "\r\n"]),
    byte_order_mark=st.booleans(),
)


@pytest.mark.parametrize("record", [Part, Device, Wire])
@QUICK
@given(data=st.data())
def test_a_list_reads_back_as_it_was_written(record: type, data: st.DataObject) -> None:
    key = columns_of(record)[0].field
    rows = data.draw(st.lists(records(record), max_size=4, unique_by=lambda row: getattr(row, key)))
    content = table_bytes(record, rows, data.draw(styles))
    table = read_table(record, content, file="list.csv")
    assert table.faults == ()
    assert list(table.records) == rows


@QUICK
@given(rows=st.lists(records(Part), min_size=1, max_size=3, unique_by=lambda row: row.part))
def test_decimal_commas_read_back(rows: list[Part]) -> None:
    style = CsvStyle(delimiter=";", decimal_comma=True)
    # a file shows its decimal comma by one number that can't mean thousands
    rows = [replace(rows[0], width=0.5), *rows[1:]]
    table = read_table(Part, table_bytes(Part, rows, style), file="list.csv")
    assert table.faults == ()
    assert list(table.records) == rows
    assert table.style == style


@given(st.lists(names | st.integers(0, 30).map(str), unique=True).map(tuple))
def test_names_read_back(found: tuple[str, ...]) -> None:
    assert read_names(written_names(found)) == found


@QUICK
@given(records(JobSettings, toml=True))
def test_new_settings_read_back(found: JobSettings) -> None:
    document, fault = parse(settings_text(found).encode(), "job.toml")
    assert fault is None
    assert read_record(JobSettings, document, "job.toml") == (found, ())


@contextmanager
def copy_of_example() -> Iterator[Path]:
    with tempfile.TemporaryDirectory() as folder:
        yield Path(shutil.copytree(EXAMPLE, Path(folder) / "job"))


@FEW
@given(first=records(JobSettings, toml=True), second=records(JobSettings, toml=True))
def test_changed_settings_read_back_and_comments_stay(
    first: JobSettings, second: JobSettings
) -> None:
    with copy_of_example() as folder:
        for found in (first, second):
            write_settings(folder, found)
            content = (folder / "job.toml").read_bytes()
            assert b"# A small job, complete" in content
            document, fault = parse(content, "job.toml")
            assert fault is None
            assert read_record(JobSettings, document, "job.toml") == (found, ())


@FEW
@given(
    first=records(Layout, toml=True, decimals=DECIMALS),
    second=records(Layout, toml=True, decimals=DECIMALS),
)
def test_layouts_read_back_and_comments_stay(first: Layout, second: Layout) -> None:
    with copy_of_example() as folder:
        path = folder / "layout.toml"
        for fresh in (True, False):
            if fresh:
                path.unlink()
            for found in (first, second):
                write_layout(folder, found)
                document, fault = parse(path.read_bytes(), "layout.toml")
                assert fault is None
                assert read_record(Layout, document, "layout.toml") == (found, ())
            path.write_bytes(b"# a note of mine\n" + path.read_bytes())
        assert path.read_bytes().startswith(b"# a note of mine\n")


@FEW
@given(st.randoms(use_true_random=False))
def test_the_order_of_rows_changes_nothing(chance: random.Random) -> None:
    with copy_of_example() as folder:
        job = read_job(folder)
        for name in ("parts.csv", "devices.csv", "wires.csv"):
            head, *rows = (folder / name).read_text().splitlines()
            chance.shuffle(rows)
            (folder / name).write_text("\n".join([head, *rows]) + "\n")
        mixed = read_job(folder)
        assert mixed.settings == job.settings
        assert mixed.parts == job.parts
        assert mixed.devices == job.devices
        assert set(mixed.wires) == set(job.wires)


@FEW
@given(st.randoms(use_true_random=False))
def test_the_order_of_columns_changes_nothing(chance: random.Random) -> None:
    with copy_of_example() as folder:
        job = read_job(folder)
        path = folder / "devices.csv"
        rows = [row.split(",") for row in path.read_text().splitlines()]
        columns = list(zip_longest(*rows, fillvalue=""))
        chance.shuffle(columns)
        path.write_text("".join(",".join(row) + "\n" for row in zip(*columns, strict=True)))
        assert read_job(folder) == job


def test_a_saved_job_is_the_same_job() -> None:
    with copy_of_example() as folder:
        job = read_job(folder)
        layout = read_layout(folder, job)
        for name in ("parts.csv", "devices.csv", "wires.csv"):
            (folder / name).unlink()
        write_parts(folder, job.parts.values())
        write_devices(folder, job.devices.values())
        write_wires(folder, job.wires)
        write_settings(folder, job.settings)
        write_layout(folder, layout)
        assert read_job(folder) == job
        assert read_layout(folder, job) == layout


@QUICK
@given(st.binary(max_size=200), st.sampled_from([Part, Device, Wire]))
def test_any_bytes_give_faults_never_a_crash(content: bytes, record: type) -> None:
    table = read_table(record, content, file="list.csv")
    assert table.faults or not table.rows
    assert all(fault.cure for fault in table.faults)


@QUICK
@given(st.binary(max_size=200) | texts.map(str.encode))
def test_any_bytes_for_settings_give_faults_never_a_crash(content: bytes) -> None:
    reading = settings_from(content)
    assert reading.settings is None
    assert all(fault.cure for fault in reading.faults)
    assert reading.faults


def texts_of_cells() -> st.SearchStrategy[str]:
    pieces = st.sampled_from(
        ["-Q1", ":", "1", "..", "mm", '"', "3/8", "-", ",", ".", " ", "°F", "AWG", "½", "nan", "e9"]
    )
    return st.lists(pieces, max_size=6).map("".join)


@QUICK
@given(st.lists(texts_of_cells(), min_size=4, max_size=40))
def test_any_cells_give_faults_never_a_crash(found: list[str]) -> None:
    style = CsvStyle()
    for record in (Part, Device, Wire):
        width = len(columns_of(record))
        row = style.line([found[index % len(found)] for index in range(width)])
        head = style.line([column.name for column in columns_of(record)])
        table = read_table(record, (head + row).encode(), file="list.csv")
        assert all(fault.cure for fault in table.faults)


def test_faults_do_not_depend_on_the_order_of_rows() -> None:
    def faults(folder: Path) -> set[tuple[str, str | None, str | None, str]]:
        with pytest.raises(InputErrors) as caught:
            read_job(folder)
        return {(each.file, each.field, each.value, each.problem) for each in caught.value.faults}

    with copy_of_example() as folder:
        path = folder / "devices.csv"
        head, *rows = path.read_text().replace("starter-10", "x").replace("lamp", "y").splitlines()
        path.write_text("\n".join([head, *rows]))
        first = faults(folder)
        path.write_text("\n".join([head, *rows[::-1]]))
        assert faults(folder) == first
