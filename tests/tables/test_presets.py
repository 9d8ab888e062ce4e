"""The presets are our own weighings: what holds is their form, and what job.toml does with them."""

import pytest

from platewright.jobfile.settings import settings_from
from platewright.model.job import Aims
from platewright.tables.presets import WEIGHTS, preset, preset_names, presets

JOB = """
[job]
title = "t"
[enclosure]
width_mm = 500
height_mm = 600
depth_mm = 210
door_inside_mm = 185
[plate]
width_mm = 440
height_mm = 540
thickness_mm = 2.0
[stock]
ducts = [{name = "25x60", width_mm = 25, height_mm = 60}]
"""


def _aims(head: str = "", tail: str = "") -> Aims:
    reading = settings_from((head + JOB + tail).encode())
    assert reading.settings is not None
    assert reading.faults == ()
    return reading.settings.aims


def test_a_job_that_names_none_reads_as_before() -> None:
    assert _aims() == Aims()
    assert _aims(tail="[aims]\nheight = 7\n") == Aims(height=7.0)


def test_the_even_preset_repeats_the_weights_of_a_job_that_states_none() -> None:
    assert _aims('preset = "all-round"\n') == Aims()


@pytest.mark.parametrize("name", preset_names())
def test_a_preset_gives_its_weights_and_leaves_the_wishes(name: str) -> None:
    row = preset(name)
    assert row is not None
    aims = _aims(f'preset = "{name}"\n')
    assert {w: getattr(aims, w) for w in WEIGHTS} == dict(row.weights)
    assert aims.wish == Aims().wish


def test_a_key_of_aims_stands_above_the_preset() -> None:
    aims = _aims('preset = "smallest-plate"\n', "[aims]\nwire = 3\nwish = 50\n")
    row = preset("smallest-plate")
    assert row is not None
    assert (aims.wire, aims.wish, aims.height) == (3.0, 50.0, row.height)


def test_an_unknown_preset_is_told_with_the_nearest() -> None:
    reading = settings_from(('preset = "least-wires"\n' + JOB).encode())
    (fault,) = reading.faults
    assert (fault.file, fault.field, fault.value) == ("job.toml", "preset", "least-wires")
    assert "least-wire" in fault.cure


def test_a_preset_that_is_no_text_and_aims_that_are_no_table_are_faults() -> None:
    assert settings_from(("preset = 3\n" + JOB).encode()).faults
    assert settings_from(('preset = "hot-high"\naims = 3\n' + JOB).encode()).faults


def test_every_preset_weighs_its_own_aim_most() -> None:
    rows = {row.name: row for row in presets()}
    for name, weight in (
        ("least-wire", "wire"), ("smallest-plate", "height"), ("hot-high", "hot_high"),
        ("heavy-low", "heavy_low"), ("easy-cutting", "rail_piece"),
    ):  # fmt: skip
        shares = {n: r.weights[weight] / (sum(r.weights.values())) for n, r in rows.items()}
        assert max(shares, key=lambda n: shares[n]) == name
