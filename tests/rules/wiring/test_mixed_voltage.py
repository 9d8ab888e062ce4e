"""Wires of different voltages in one duct.

The rule from memory of NEC 300.3(C)(1) and IEC 60204-1 13.1.3: insulation for the highest voltage
present. Ratings: UL 1063 (MTW 600 V); the letters 05 and 07 of harmonised types stand for 300/500
and 450/750 V (HD 361).
"""

from dataclasses import replace

import pytest

from platewright.model.job import Group, Practice
from platewright.model.routes import Route, Routes, Stretch

from ..builders import duct, panel, settings, told, verdict, wire

RULE = "wiring.mixed-voltage"


def laid(*wires, volts, practice=Practice.IEC, protective=()):
    """All wires in duct U1; ``volts``: group -> voltage."""
    stretch = (Stretch(duct="U1", start=0.0, end=100.0),)
    routes = {
        each.number: Route(wire=each.number, path=(), stretches=stretch, run=1.0, cut=1.0)
        for each in wires
    }
    groups = tuple(
        Group(name=name, voltage=voltage, protective=name in protective)
        for name, voltage in volts.items()
    )
    return panel(
        wires=wires,
        layout={"ducts": {"U1": duct(0, 0, 500)}},
        routes=Routes(wires=routes, loads={}),
        job=replace(settings(practice=practice), groups=groups),
    )


def pair(type_of_signal, mains, **fields):
    return laid(
        wire("1", "-A1:1", "-A2:1", type="H07V-K", group="M"),
        wire("2", "-A1:3", "-A2:3", type=type_of_signal, group="D"),
        volts={"M": mains, "D": 24.0},
        **fields,
    )


@pytest.mark.parametrize(
    ("type_of_signal", "mains", "wanted"),
    [
        ("H05V-K", 400.0, "PASS"),
        ("H05V-K", 500.0, "PASS"),
        ("H05V-K", 501.0, "CAUTION"),  # from memory of the standard: never a FAIL
        ("H07V-K", 690.0, "PASS"),
        ("MTW", 690.0, "CAUTION"),
    ],
)
def test_the_least_insulation_is_held_against_the_highest_voltage(type_of_signal, mains, wanted):
    here = pair(type_of_signal, mains)
    assert verdict(RULE, here) == wanted
    (found,) = told(RULE, here)
    assert found.source.document == "IEC 60204-1"
    assert found.place.left == 0


def test_north_america_has_its_own_clause():
    (found,) = told(RULE, pair("MTW", 480.0, practice=Practice.NORTH_AMERICA))
    assert found.source.document == "NEC"
    assert "of MTW 600 V, at least 480 V" in found.message


def test_a_type_not_stated_is_assumed_and_said():
    (found,) = told(RULE, pair("", 400.0))
    assert "type assumed" in found.message


@pytest.mark.parametrize(
    ("here", "missing"),
    [
        (pair("H05V-K", None), "voltage of group M"),
        (pair("silver thread", 400.0), "rated voltage of wire type silver thread"),
    ],
)
def test_what_is_not_known_is_named(here, missing):
    assert verdict(RULE, here) == "UNDECIDED"
    (found,) = told(RULE, here)
    assert missing in found.message


def test_one_group_or_protective_earth_beside_it_is_no_mixture():
    earth = laid(
        wire("1", "-A1:1", "-A2:1", type="H05V-K", group="M"),
        wire("2", "-A1:3", "-A2:3", type="H05V-K", group="PE"),
        volts={"M": 690.0, "PE": None},
        protective=("PE",),
    )
    assert verdict(RULE, earth) == "PASS"


@pytest.mark.parametrize(
    ("practice", "document"), [(Practice.NORTH_AMERICA, "NEC"), (Practice.IEC, "IEC 60204-1")]
)
def test_what_is_open_cites_what_the_job_is_built_by(practice, document):
    here = pair("H05V-K", None)
    settings = replace(here.job.settings, practice=practice)
    (found,) = told(RULE, replace(here, job=replace(here.job, settings=settings)))
    assert found.verdict == "UNDECIDED"
    assert found.source.document == document
