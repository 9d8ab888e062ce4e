"""The committed reference and schemas are those the records give."""

import json
import re
import tomllib
from pathlib import Path

import pytest

from platewright.jobfile.columns import names
from platewright.jobfile.reference import reference_files
from platewright.model.device import Device
from platewright.model.part import Part
from platewright.model.wire import Wire

DOCS = Path(__file__).parents[2] / "docs"
FILES = reference_files()


@pytest.mark.parametrize("name", sorted(FILES))
def test_committed_files_are_current(name: str) -> None:
    told = "run: python -m platewright.jobfile.reference docs"
    assert (DOCS / name).read_text(encoding="utf-8") == FILES[name], told


def test_every_column_of_the_lists_has_an_example() -> None:
    page = FILES["columns.md"]
    for record in (Part, Device, Wire):
        for name in names(record):
            assert re.search(rf"\| `{name}` \|.*`[^`]+` \|\n", page), name


def matches(schema: dict, value: object) -> bool:
    """Judge a value by the words of JSON Schema (2020-12) that our schemas use."""
    if "anyOf" in schema and not any(matches(each, value) for each in schema["anyOf"]):
        return False
    if not all(matches(each, value) for each in schema.get("allOf", ())):
        return False
    if "enum" in schema and value not in schema["enum"]:
        return False
    kinds = {"object": dict, "array": list, "string": str, "boolean": bool, "integer": int}
    kind = schema.get("type")
    if kind == "number" and (isinstance(value, bool) or not isinstance(value, int | float)):
        return False
    if kind in kinds and not isinstance(value, kinds[kind]):
        return False
    if "exclusiveMinimum" in schema and not value > schema["exclusiveMinimum"]:
        return False
    if isinstance(value, dict):
        if not all(name in value for name in schema.get("required", ())):
            return False
        inside = schema.get("properties", {})
        others = schema.get("additionalProperties", {})
        for key, each in value.items():
            rule = inside.get(key, others)
            if rule is False or not matches(rule, each):
                return False
    if isinstance(value, list):
        return all(matches(schema.get("items", {}), each) for each in value)
    return True


@pytest.mark.parametrize("name", ["job", "layout"])
def test_schemas_take_the_example_and_refuse_a_spoilt_one(job_folder: Path, name: str) -> None:
    schema = json.loads(FILES[f"schema/{name}.schema.json"])
    document = tomllib.loads((job_folder / f"{name}.toml").read_text())
    assert matches(schema, document)
    assert not matches(schema, document | {"surprise": 1})
    if name == "job":
        assert not matches(schema, {key: document[key] for key in document if key != "plate"})
        assert not matches(schema, document | {"plate": document["plate"] | {"width_mm": -1}})
        assert matches(schema, document | {"plate": document["plate"] | {"width_in": 17}})
