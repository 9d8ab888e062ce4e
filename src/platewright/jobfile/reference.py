"""The column reference and the schemas, made from the records so that they can't go stale.

``reference_files()`` gives every generated file; ``python -m platewright.jobfile.reference DOCS``
writes them.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Mapping, Sequence
from importlib import resources
from pathlib import Path
from typing import Any, Final

from annotated_types import Ge, Gt, Le, Lt

from platewright.jobfile import atomic
from platewright.jobfile.columns import Column, Kind, columns_of, spellings
from platewright.jobfile.csv_style import NEW_FILE
from platewright.jobfile.enclosures import read_enclosures
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.jobfile.tables_write import written
from platewright.model.device import Device
from platewright.model.enclosure_stock import EnclosureStock
from platewright.model.job import JobSettings
from platewright.model.layout import Layout
from platewright.model.offcut import Offcut
from platewright.model.part import Part
from platewright.model.wire import Wire

_HEAD: Final = """# Columns and keys of a job folder

This page is generated from the records in `src/platewright/model`: don't edit it
(`python -m platewright.jobfile.reference docs` writes it again).

- A heading or key is the name of the value, and behind it the unit: `width_mm`.
- **Other units are read too**, in the heading (`width_in`, `mass_lb`, `mount_torque_lbin`,
  `heat_limit_degf`) or behind the number (`4.5 in`, `1-3/8"`, `20 lb-in`, `50 %`). A fraction
  needs its inch mark. The program writes mm, kg, N·m, °C.
- **Blank is not zero.** Blank means "not stated", 0 means "stated as none".
- Lists are CSV in UTF-8, divided by comma, semicolon or tab. Decimal commas are read in lists
  divided by semicolon or tab; the program says so.
- Names in a list of terminals have spaces between; `1..12` and `I0..I13` stand for all between.
- Wire sizes: `14 AWG`, `#14`, `2/0 AWG`, `1.5 mm2`. A bare number is AWG where the job's practice
  is north-america, and mm² where it is iec.
- A wire end is device:terminal, `-Q1:2`; the last colon divides.
- Lengths on the plate are measured from its lower left corner, x to the right, y up.
- In messages, tables of a list are counted from 1: `plate.fixing_holes[2].x_mm` is the second hole.

"""

_LISTS: Final = (
    ("parts.csv", Part, "A row for each type of thing this job uses."),
    ("devices.csv", Device, "A row for each device."),
    ("wires.csv", Wire, "A row for each wire. May be left out."),
    (
        "offcuts.csv",
        Offcut,
        "A row for each off-cut in store. May be left out; cut before new bars are.",
    ),
    (
        "enclosures.csv",
        EnclosureStock,
        "The shop's enclosures, for `platewright size`. It may lie anywhere and bear any name.",
    ),
)


def reference_files() -> Mapping[str, str]:
    """Return every generated file: path below ``docs`` -> text."""
    files = {"columns.md": columns_page()}
    for name, record in (
        ("job", JobSettings),
        ("layout", Layout),
        ("part", Part),
        ("device", Device),
        ("wire", Wire),
        ("offcut", Offcut),
        ("enclosure", EnclosureStock),
    ):
        schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": name}
        text = json.dumps(schema | _schema(record), indent=2, ensure_ascii=False)
        files[f"schema/{name}.schema.json"] = text + "\n"
    return files


def columns_page() -> str:
    """Return the reference of all lists and tables; examples come from a small complete job."""
    example = resources.files(__package__) / "example"
    with resources.as_file(example) as folder:
        job = read_job(folder)
        layout = read_layout(folder, job)
        rows: Mapping[type, Sequence[object]] = {
            Part: tuple(job.parts.values()),
            Device: tuple(job.devices.values()),
            Wire: job.wires,
            Offcut: job.offcuts,
            EnclosureStock: read_enclosures(folder / "enclosures.csv"),
        }
        parts = [_HEAD]
        for file, record, words in _LISTS:
            parts.append(f"## {file}\n\n{words}\n\n{_page_table(record, rows[record])}\n")
            parts.append(_block("csv", (folder / file).read_text(encoding="utf-8")))
        for file, whole, words in (
            ("job.toml", job.settings, "The job: enclosure, plate, stock, limits."),
            ("layout.toml", layout, "Written by the program, may be edited by hand."),
        ):
            parts.append(f"## {file}\n\n{words}\n\n")
            parts += [
                f"### {title}\n\n{_page_table(record, samples)}\n"
                for title, record, samples in _tables(type(whole), [whole])
            ]
            parts.append(_block("toml", (folder / file).read_text(encoding="utf-8")))
    return "".join(parts).rstrip() + "\n"


def _block(language: str, text: str) -> str:
    return f"Example:\n\n```{language}\n{text}```\n\n"


def write_reference(docs: Path) -> None:
    """Write every generated file below a folder."""
    for name, text in reference_files().items():
        (docs / name).parent.mkdir(parents=True, exist_ok=True)
        atomic.save(docs / name, text.encode())


def _tables(
    record: type, samples: Sequence[object], path: str = ""
) -> Iterator[tuple[str, type, Sequence[object]]]:
    """Yield each table of a document with its title and its examples, from the outermost in."""
    yield f"`[{path}]`" if path else "At the top", record, samples
    for column in columns_of(record):
        if column.record is None:
            continue
        found = [getattr(sample, column.field) for sample in samples]
        name = f"{path}.{column.name}".strip(".")
        match column.kind:
            case Kind.RECORDS:
                yield from _tables(column.record, [each for many in found for each in many], name)
            case Kind.MAP:
                inside = [each for many in found for each in many.values()]
                yield from _tables(column.record, inside, name)
            case _:
                yield from _tables(column.record, found, name)


def _page_table(record: type, samples: Sequence[object]) -> str:
    lines = [
        "| column | unit | needed | meaning | range | example |",
        "| --- | --- | --- | --- | --- | --- |",
    ]
    for column in columns_of(record):
        example = _example(column, samples)
        cells = (
            f"`{column.name}`",
            column.unit.symbol if column.unit else "",
            "**yes**" if column.needed else f"no; {_default(column)}",
            column.meaning,
            ", ".join(column.choices) or column.range,
            f"`{example}`" if example else "",
        )
        lines.append("| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |")
    return "\n".join(lines) + "\n"


def _example(column: Column, samples: Sequence[object]) -> str:
    """Return a value from the example job, one that is not the default where there is any."""
    if column.record or column.kind is Kind.MAP:
        return ""
    found = [getattr(sample, column.field) for sample in samples]
    stated = [value for value in found if value not in (None, "", ())]
    telling = [value for value in stated if value != column.default]
    return next((written(value, NEW_FILE) for value in (*telling, *stated)), "")


def _default(column: Column) -> str:
    match column.default:
        case None:
            return "blank: not stated"
        case "" | ():
            return "none" if column.record else "blank"
        case bool() as truth:
            return "yes" if truth else "no"
        case float() as number:
            return f"{number:g}"
        case int() | str() as word:
            return f"{word}"
        case _:
            return "see below" if column.record else "none"


def _schema(record: type) -> dict[str, Any]:
    """Return the schema of one table; every spelling that is read is allowed."""
    properties: dict[str, Any] = {}
    for name, (column, alias) in spellings(record).items():
        properties[name] = _property(column, plain=alias is None)
    needed = [_one_of_spellings(record, column) for column in columns_of(record) if column.needed]
    schema: dict[str, Any] = {
        "type": "object",
        "properties": {name: properties[name] for name in sorted(properties)},
        "additionalProperties": False,
    }
    return schema | ({"allOf": needed} if needed else {})


def _one_of_spellings(record: type, column: Column) -> dict[str, Any]:
    found = sorted(name for name, (each, _) in spellings(record).items() if each == column)
    choices = [{"required": [name]} for name in found]
    return choices[0] if len(choices) == 1 else {"anyOf": choices}


def _property(column: Column, *, plain: bool) -> dict[str, Any]:
    meaning = {"description": column.meaning}
    inner = column.record
    match column.kind:
        case Kind.NUMBER:
            limits = _limits(column) if plain else {}
            return meaning | {"anyOf": [{"type": "number"} | limits, {"type": "string"}]}
        case Kind.WHOLE:
            return meaning | {"type": "integer"}
        case Kind.YES_NO:
            return meaning | {"type": "boolean"}
        case Kind.CHOICE:
            return meaning | {"enum": list(column.choices)}
        case Kind.NAMES:
            names = {"type": "array", "items": {"type": "string"}}
            return meaning | {"anyOf": [{"type": "string"}, names]}
        case Kind.RECORD:
            return meaning | _schema(inner or object)
        case Kind.RECORDS:
            return meaning | {"type": "array", "items": _schema(inner or object)}
        case Kind.MAP:
            value = _schema(inner) if inner else {"type": "string"}
            return meaning | {"type": "object", "additionalProperties": value}
        case _:
            return meaning | {"type": "string"}


def _limits(column: Column) -> dict[str, Any]:
    words: dict[str, Any] = {}
    for limit in column.limits:
        match limit:
            case Gt():
                words["exclusiveMinimum"] = limit.gt
            case Ge():
                words["minimum"] = limit.ge
            case Lt():
                words["exclusiveMaximum"] = limit.lt
            case Le():
                words["maximum"] = limit.le
    return words


if __name__ == "__main__":
    write_reference(Path(sys.argv[1]))
