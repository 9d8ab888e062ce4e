"""The stored reference answers: belong to the layouts that are drawn today, settled, balanced."""

import importlib.util
import json
import sys
from pathlib import Path

import pytest

BENCH = Path(__file__).parents[3] / "bench"


@pytest.fixture(scope="module")
def drawn():
    """Return the generator of layouts, loaded from where the bench keeps it."""
    spec = importlib.util.spec_from_file_location("deep_layouts", BENCH / "deep_layouts.py")
    module = importlib.util.module_from_spec(spec)
    sys.modules["deep_layouts"] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def stored():
    return json.loads((BENCH / "data" / "deep_layouts.json").read_text(encoding="utf-8"))["layouts"]


def test_enough_layouts_are_kept_from_fitting(stored):
    fitting = [name for name, entry in stored.items() if entry["fitting"]]
    assert len(fitting) >= 6
    assert len(stored) - len(fitting) >= 12


def test_inputs_are_those_of_the_generator(drawn, stored):
    wishes = {wish.name: wish for wish in drawn.WISHES}
    assert set(stored) == set(wishes)
    for name, entry in stored.items():
        cabinet = drawn.layout(wishes[name])
        kept = entry["cabinet"]
        assert entry["fitting"] == wishes[name].fitting
        assert (kept["width"], kept["height"]) == (cabinet.inside.width, cabinet.inside.height)
        assert kept["heat"] == pytest.approx(cabinet.heat, abs=1e-3)
        for block, row in zip(cabinet.blocks, kept["blocks"], strict=True):
            assert row["tag"] == block.tag
            assert row["left"] == pytest.approx(block.box.left, abs=1e-3)
            assert row["top"] == pytest.approx(block.box.top, abs=1e-3)
            assert row["heat"] == block.heat


def test_layouts_overlap_nowhere_but_where_ducts_meet(drawn):
    for wish in drawn.WISHES:
        blocks = drawn.layout(wish).blocks
        devices = [b for b in blocks if b.is_device]
        for device in devices:
            for other in blocks:
                assert other is device or not device.box.overlaps(other.box), wish.name


def test_answers_are_balanced_and_settled(stored):
    for name, entry in stored.items():
        heat = entry["cabinet"]["heat"]
        for field in entry["deep"].values():
            assert field["residual"] < 1e-3, name
            assert abs(heat - field["wall_heat"] - field["stored"]) < 0.01, name
            assert abs(field["stored"]) < 0.02 * heat, name


def test_every_device_has_an_inlet_above_ambient(stored):
    for name, entry in stored.items():
        tags = [b["tag"] for b in entry["cabinet"]["blocks"] if b["device"]]
        for field in entry["deep"].values():
            assert sorted(field["inlet"]) == sorted(tags), name
            assert min(field["inlet"].values()) > entry["cabinet"]["ambient"] - 0.1, name
