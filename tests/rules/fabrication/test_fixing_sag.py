"""Rails and ducts between two screws bend 1 mm at most (shop practice, beam_practice.csv).

The spans at the limit are worked out by the closed forms of the handbook, not by the program.
"""

import pytest

from ..builders import duct, hole, panel, rail, settings, told, verdict

RULE = "fabrication.fixing-sag"
# TH35-7.5 with a slot of 6.2: I = 326.15 mm⁴ (worked by hand); F·L³ / (48·E·I) = 1 mm at 20 N
RAIL_SPAN = (48 * 210_000 * 326.1469 / 20) ** (1 / 3)


def held(span, **fields):
    job = settings(limits=fields)
    return panel(
        layout={
            "rails": {"R1": rail(0, 100, 900)},
            "holes": {"H1": hole(20, 100, "R1"), "H2": hole(20 + span, 100, "R1")},
        },
        job=job,
    )


@pytest.mark.parametrize(
    ("span", "wanted"),
    [(RAIL_SPAN - 0.1, "PASS"), (RAIL_SPAN, "PASS"), (RAIL_SPAN + 0.1, "CAUTION")],
)
def test_rail(span, wanted):
    assert verdict(RULE, held(span)) == wanted


@pytest.mark.parametrize(("by", "wanted"), [(-0.1, "PASS"), (0, "PASS"), (0.1, "FAIL")])
def test_the_jobs_own_limit(by, wanted):
    span = RAIL_SPAN * 0.5 ** (1 / 3) + by
    assert verdict(RULE, held(span, fixing_sag=0.5)) == wanted


def test_the_cure_says_how_far_apart():
    (found,) = told(RULE, held(870))
    assert "under a pull of 20 N by 4 mm, at most 1 mm" in found.message
    assert found.cure == f"Set fixings at most {RAIL_SPAN:.0f} mm apart"


def test_an_upright_duct_bears_the_push_alone():
    """Base 1.5 mm, 25 wide, E 3000: F·L³ / (48·E·I) with I = 1.5·25³/12."""
    longest = (48 * 3000 * 1.5 * 25**3 / 12 / 20) ** (1 / 3)
    for by, wanted in ((-0.1, "PASS"), (0.1, "CAUTION")):
        layout = {
            "ducts": {"U1": duct(0, 0, 600, "upright", width=25)},
            "holes": {"H1": hole(12.5, 20, "U1"), "H2": hole(12.5, 20 + longest + by, "U1")},
        }
        assert verdict(RULE, panel(layout=layout)) == wanted


def test_a_profile_without_a_section_is_undecided():
    layout = {
        "rails": {"R1": rail(0, 100, 900, profile="G32")},
        "holes": {"H1": hole(20, 100, "R1"), "H2": hole(220, 100, "R1")},
    }
    assert verdict(RULE, panel(layout=layout)) == "UNDECIDED"


@pytest.mark.parametrize(
    ("profile", "cure"),
    [("G32", "Hold it every 200 mm"), ("TH35-75", "Did you mean TH35-7.5"), ("own", "Known: ")],
)
def test_an_unknown_profile_is_told_with_the_nearest_known(profile, cure):
    layout = {
        "rails": {"R1": rail(0, 100, 900, profile=profile)},
        "holes": {"H1": hole(20, 100, "R1"), "H2": hole(220, 100, "R1")},
    }
    (found,) = told(RULE, panel(layout=layout))
    assert found.verdict == "UNDECIDED"
    assert profile in found.message
    assert found.cure.startswith(cure)


def test_a_profile_may_be_written_in_small_letters():
    layout = {
        "rails": {"R1": rail(0, 100, 900, profile="th35-7.5")},
        "holes": {"H1": hole(20, 100, "R1"), "H2": hole(220, 100, "R1")},
    }
    assert verdict(RULE, panel(layout=layout)) == "PASS"
