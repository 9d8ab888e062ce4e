"""``job.toml`` -> the settings of the job, or every fault of the file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from platewright.foundation.errors import InputError, InputErrors
from platewright.jobfile import migrations, settings_faults
from platewright.jobfile.records import MISSING
from platewright.jobfile.settings_faults import FILE
from platewright.jobfile.toml_values import as_typed, parse, read_record_as_typed
from platewright.model.job import ColumnMap, DisplayUnit, JobSettings, Practice
from platewright.tables.presets import preset


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingsReading:
    """What was read; ``practice`` is known even when other values have faults."""

    settings: JobSettings | None
    practice: Practice | None
    faults: tuple[InputError, ...]
    # numbers in another unit than the inside one: place -> place and value as written
    typed: Mapping[str, tuple[str, str]] = field(default_factory=dict)


def settings_from(content: bytes) -> SettingsReading:
    """Return the settings a file's bytes hold, with all faults."""
    document, fault = parse(content, FILE)
    fault = fault or migrations.bring_up_to_date(document, FILE)
    if fault:
        return SettingsReading(settings=None, practice=None, faults=(fault,))
    settings, faults, typed = read_record_as_typed(JobSettings, _with_preset(document), FILE)
    if settings is not None:
        faults = tuple(as_typed(one, typed) for one in settings_faults.faults_of(settings))
        return SettingsReading(
            settings=settings, practice=settings.practice, faults=faults, typed=typed
        )
    word = document.get("practice", Practice.IEC)
    practice = Practice(word) if word in tuple(Practice) else None
    if document.get("units") == DisplayUnit.INCH:
        faults = tuple(map(_asked_in_inches, faults))
    return SettingsReading(settings=None, practice=practice, faults=faults)


def _asked_in_inches(fault: InputError) -> InputError:
    """Return the fault of a missing length with the key a job in inches is asked for."""
    if fault.problem != MISSING or not (fault.field or "").endswith("_mm"):
        return fault
    path = (fault.field or "").removesuffix("_mm")
    name = path.rpartition(".")[2]
    cure = fault.cure.replace(f"{name}_mm", f"{name}_in")
    return replace(fault, field=f"{path}_in", cure=cure)


def _with_preset(document: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return the document with the weights of its preset; keys it states itself stand.

    A name that no preset has is told by ``settings_faults``.
    """
    name, stated = document.get("preset"), document.get("aims", {})
    row = preset(name) if isinstance(name, str) else None
    if row is None or not isinstance(stated, dict):
        return document
    return {**document, "aims": {**row.weights, **stated}}


def read_settings(folder: Path) -> JobSettings:
    """Return the settings of a job folder.

    Raises ``InputErrors`` with every fault of the file.
    """
    reading = settings_from(read_bytes(folder))
    if reading.settings is None or reading.faults:
        raise InputErrors(reading.faults)
    return reading.settings


def read_columns(folder: Path) -> ColumnMap:
    """Return which headings an earlier job took; nothing else of its file need be there or sound.

    Raises ``InputErrors`` with every fault of ``[columns]``.
    """
    document, fault = parse(read_bytes(folder), FILE)
    fault = fault or migrations.bring_up_to_date(document, FILE)
    faults: tuple[InputError, ...] = (fault,) if fault else ()
    columns, table = None, document.get("columns", {})
    if not faults and not isinstance(table, dict):
        cure = 'Write [columns.devices] or [columns.wires] and under it e.g. size = "YOUR HEADING"'
        fault = InputError(file=FILE, field="columns", problem="is no table", cure=cure)
        faults = (fault,)
    if not faults:
        columns, found, _ = read_record_as_typed(ColumnMap, table, FILE)
        faults = tuple(replace(one, field=_under_columns(one.field)) for one in found)
    if columns is None or faults:
        raise InputErrors(faults)
    return columns


def _under_columns(field: str | None) -> str:
    return f"columns.{field}" if field else "columns"


def read_bytes(folder: Path) -> bytes:
    """Return the bytes of ``job.toml``, or say that this is no job folder."""
    path = folder / FILE
    if not path.is_file():
        raise InputErrors(
            [
                InputError(
                    file=FILE,
                    problem=f"is not in {folder.name or folder}: this is no job folder",
                    cure="Go to a job folder, or make one with: platewright new DIR",
                )
            ]
        )
    return path.read_bytes()
