"""Every verdict of the validator that our records can draw is put in plain words."""

import pytest

from platewright.jobfile.toml_values import read_record
from platewright.model.job import JobSettings
from platewright.model.layout import Layout

SOUND = {
    "job": {"title": "t"},
    "enclosure": {"width_mm": 9, "height_mm": 9, "depth_mm": 9, "door_inside_mm": 8},
    "plate": {"width_mm": 8, "height_mm": 8, "thickness_mm": 2},
    "stock": {"ducts": []},
}


@pytest.mark.parametrize(
    ("spoilt", "field", "problem"),
    [
        ({"job": 3}, "job", "is not a table"),
        ({"groups": 3}, "groups", "is not a list"),
        ({"groups": [3]}, "groups[1]", "is not a table"),
        ({"groups": [{"name": 3}]}, "groups[1].name", "is not text"),
        ({"columns": {"devices": 3}}, "columns.devices", "is not a table"),
        ({"columns": {"devices": {"a": 3}}}, "columns.devices.a", "is not text"),
        ({"format": "x"}, "format", "is not a whole number"),
        ({"format": 1.5}, "format", "is not a whole number"),
        ({"format": True}, "format", "is not a whole number"),
        ({"units": "km"}, "units", "must be one of mm, in"),
        ({"aims": {"wire": [1]}}, "aims.wire", "is not a number"),
        ({"aims": {"wire": -1}}, "aims.wire", "must be at least 0"),
        ({"limits": {"spare_share": 0.95}}, "limits.spare_share", "must be at most 0.9"),
        ({"limits": {"spare_percent": 95}}, "limits.spare_share", "must be at most 0.9"),
        ({"wide": 1}, "wide", "is no known key"),
    ],
)
def test_settings_in_plain_words(spoilt: dict[str, object], field: str, problem: str) -> None:
    record, faults = read_record(JobSettings, SOUND | spoilt, "job.toml")
    assert record is None
    assert [(fault.field, fault.problem) for fault in faults] == [(field, problem)]


@pytest.mark.parametrize(
    ("table", "field", "problem"),
    [
        ({"devices": {"x": {"x_mm": 1, "y_mm": "up"}}}, "devices.x.y_mm", "is not a number"),
        ({"devices": {"x": 3}}, "devices.x", "is not a table"),
        ({"devices": {"-Q1": {"x_mm": 1, "y_mm": 2, "locked": 7}}}, "devices.-Q1.locked",
         "is neither true nor false"),
        ({"devices": {"-Q1": {"x_mm": 1, "y_mm": 2, "locked": "perhaps"}}}, "devices.-Q1.locked",
         "is neither true nor false"),
    ],
)  # fmt: skip
def test_layout_in_plain_words(table: dict[str, object], field: str, problem: str) -> None:
    _, faults = read_record(Layout, table, "layout.toml")
    assert [(fault.field, fault.problem) for fault in faults] == [(field, problem)]


def test_dates_and_names_as_toml_has_them() -> None:
    import datetime as dt

    document = SOUND | {"job": {"title": "t", "date": dt.date(2026, 1, 31)}}
    record, _ = read_record(JobSettings, document, "job.toml")
    assert record is not None
    assert record.job.date == "2026-01-31"
