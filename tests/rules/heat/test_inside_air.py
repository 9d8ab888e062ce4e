"""One device of 120 W, 25 °C outside: wanted air at the ends of the estimate's band."""

import re
from dataclasses import replace

import pytest

from platewright.cli.words import said
from platewright.heat.panel_heat import heat_of
from platewright.rules.registry import run_rules
from platewright.sheets.finding_list import in_order

from ..builders import boxes, device, panel, part, settings, told, verdict

RULE = "heat.inside-air"


def warm(wanted=None, outside=25.0, heat=120.0, **air):
    job = settings(air={"outside": outside, "inside": wanted, **air})
    return panel(**boxes((100, 200), heat=heat), job=job)


INSIDE = heat_of(warm()).level.inside


@pytest.mark.parametrize(
    ("wanted", "outcome"),
    [
        (INSIDE.high, "PASS"),
        (INSIDE.high + 0.01, "PASS"),
        (INSIDE.high - 0.01, "UNDECIDED"),
        (INSIDE.low, "UNDECIDED"),
        (INSIDE.low - 0.01, "FAIL"),
    ],
)
def test_wanted_air(wanted, outcome):
    assert verdict(RULE, warm(wanted)) == outcome


def test_air_that_is_only_assumed_can_not_fail():
    assert verdict(RULE, warm(None)) == "CAUTION"
    assert verdict(RULE, warm(INSIDE.low - 8, outside=None)) == "CAUTION"


def test_heat_that_is_not_stated_is_never_a_pass():
    here = warm(90.0, heat=None)
    assert verdict(RULE, here) == "UNDECIDED"
    assert "-A1" in told(RULE, here)[0].message


SIZED = {
    "fan": r"a filter fan of (\d+) m³/h",
    "cooling": r"a cooling unit of (\d+) W",
    "exchanger": r"an air-to-air exchanger of ([\d.]+) W/K",
}


@pytest.mark.parametrize("measure", sorted(SIZED))
@pytest.mark.parametrize("wanted", [30.0, 33.0, 35.0, INSIDE.value - 0.5, INSIDE.high - 0.1])
@pytest.mark.parametrize("heat", [60.0, 120.0, 400.0])
def test_what_the_cure_names_passes_when_it_is_there(wanted, heat, measure):
    here = told(RULE, warm(wanted, heat=heat))[0]
    if here.verdict.name == "PASS":
        return
    size = float(re.search(SIZED[measure], here.cure).group(1))
    assert size > 0
    assert verdict(RULE, warm(wanted, heat=heat, **{measure: size})) == "PASS"


def test_fans_come_in_fives():
    flow = int(re.search(SIZED["fan"], told(RULE, warm(35.0))[0].cure).group(1))
    assert flow % 5 == 0
    assert verdict(RULE, warm(35.0, fan=flow - 5.0)) != "PASS"


def test_named_enclosure_passes_without_any():
    size = re.search(
        r"an enclosure of (\d+) × (\d+) × (\d+) mm", told(RULE, warm(INSIDE.value - 4))[0].cure
    )
    width, height, depth = (float(each) for each in size.groups())
    here = warm(INSIDE.value - 4)
    job = here.job
    box = replace(job.settings.enclosure, width=width, height=height, depth=depth)
    job = replace(job, settings=replace(job.settings, enclosure=box))
    assert verdict(RULE, replace(here, job=job)) == "PASS"


def test_told_before_what_follows_from_it():
    hot = replace(part("box", heat=400.0), heat_limit=30.0)
    here = panel(
        parts=[hot],
        devices=[(device("-A1"), (100, 200))],
        job=settings(air={"outside": 25.0, "inside": 26.0}),
    )
    heat = [f.rule.id for f in run_rules(here, ["heat"]) if f.verdict.name == "FAIL"]
    assert heat[0] == RULE
    assert "heat.device-air" in heat
    findings = run_rules(here, ["heat"])
    printed = "\n".join(said(findings, everything=False))
    assert printed.index(RULE) < printed.index("heat.device-air")
    fails = [f.rule.id for f in in_order(findings) if f.verdict.name == "FAIL"]
    assert fails[0] == RULE


def test_no_fan_is_named_where_outside_is_too_warm():
    assert "fan" not in told(RULE, warm(25.0))[0].cure
    assert "cooling unit" in told(RULE, warm(25.0))[0].cure


def many(limit=50.0, outside=35.0, heat=20.0, **air):
    """Twelve devices of 20 W, three rows of four, in a box that no fan cools."""
    places = [(60.0 + 180 * n, 60.0 + 180 * row) for row in range(3) for n in range(4)]
    return panel(
        **boxes(*places, heat=heat, heat_limit=limit), job=settings(air={"outside": outside, **air})
    )


def test_one_cause_is_one_problem():
    found = [f for f in run_rules(many(), ["heat"]) if f.verdict.name == "FAIL"]
    assert [f.rule.id for f in found] == [RULE]
    assert "12 devices over their limit because of it" in found[0].message
    assert "-A1 (50 °C)" in found[0].message
    assert "cooling unit" in found[0].cure
    (elsewhere,) = told("heat.device-air", many())
    assert elsewhere.verdict.name == "NOT_APPLICABLE"
    assert "12 devices are told under heat.inside-air" in elsewhere.message


def test_the_cure_of_the_cause_cures_what_followed():
    size = float(re.search(SIZED["cooling"], told(RULE, many())[0].cure).group(1))
    cured = many(cooling=size)
    assert heat_of(cured).level.inside.value <= 50.0
    assert not [f for f in run_rules(cured, ["heat"]) if f.verdict.name == "FAIL"]


def test_outside_air_that_is_assumed_makes_the_cause_a_caution():
    assert {f.verdict.name for f in told(RULE, many(outside=None))} == {"CAUTION"}
    assert "12 devices" in told(RULE, many(outside=None))[0].message


def test_a_device_too_warm_by_its_place_alone_is_told_itself():
    """Air inside within its limit: what it meets comes from below it."""
    inside = heat_of(many(90.0)).level.inside
    worst = max(heat_of(many(90.0)).devices.values(), key=lambda one: one.air.low)
    here = many((inside.high + worst.air.low) / 2)
    if worst.air.low > inside.high:
        assert worst.tag in {f.subject for f in told("heat.device-air", here)}
    assert "because of it" not in told(RULE, here)[0].message
