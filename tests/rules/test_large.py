"""A panel of 300 devices, 1000 wires and 641 holes: what is told of it."""

from collections import Counter

import pytest

from platewright.model.finding import Verdict
from platewright.rules.registry import run_rules

from .large import large_panel


@pytest.fixture(scope="module")
def large():
    return large_panel()


def test_its_size(large):
    assert len(large.job.devices) == 300
    assert len(large.job.wires) == 1000
    assert len(large.layout.holes) == 641


def test_nothing_fails_and_the_two_ducts_longer_than_a_bar_are_joined(large):
    found = run_rules(large)
    assert [one for one in found if one.verdict is Verdict.FAIL] == []
    joined = [one.subject for one in found if "pieces joined" in one.message]
    assert joined == ["L", "R"]


def test_every_device_is_measured(large):
    measured = Counter(found.rule.id for found in run_rules(large, only=["space"]))
    assert measured["space.clear-space"] == 300
    assert measured["space.wiring-space"] == 600
    assert measured["space.depth"] == 300
    assert measured["space.on-rail"] == 180
