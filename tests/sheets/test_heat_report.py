"""The heat report: complete in the words of a thermal data sheet, and true to the judged numbers."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from platewright.app.check import read_folder
from platewright.app.gather import panel_of
from platewright.drawing.picture import Text
from platewright.heat.panel_heat import heat_of, worked_out
from platewright.model.heat import Banded
from platewright.rules.registry import run_rules
from platewright.sheets.heat_tables import facing_verdict
from platewright.sheets.heat_variants import least_margin, variants
from platewright.sheets.registry import listings, sheets

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@pytest.fixture(scope="module")
def warm():
    """The rinser laid out by hand: 236 W, a transformer beside a duct."""
    read = read_folder(EXAMPLES / "bottle-rinser-by-hand")
    return panel_of(read.job, read.layout)


def words_of(panel, findings):
    pages = sheets()["heat"].draw(panel, findings)
    return " ".join(p.text for page in pages for p in page.primitives if isinstance(p, Text))


@pytest.fixture(scope="module")
def words(warm, findings):
    return words_of(warm, findings)


def test_it_says_what_a_thermal_data_sheet_says(words):
    for part in (
        "Heat comes from", "Heat goes out by", "Not accounted for", "Both methods",
        "Wall balance", "Power law", "Power law less balance", "What decides", "Margin",
        "Verdict", "Filter fan", "Cooling unit", "Heater", "Results: air and housing",
        "Inputs", "Assumptions and method", "Assumed", "Method.", "cannot know",
        "not a type test", "Sensitivities: what would change the answer most",
    ):  # fmt: skip
        assert part in words, part


def test_the_answer_and_its_cause_stand_on_the_first_page(warm, findings):
    first = sheets()["heat"].draw(warm, findings)[0]
    told = [p.text for p in first.primitives if isinstance(p, Text)]
    assert told[0].startswith("Air inside ")
    assert any(line in " ".join(told) for line in ("K too warm", "K to spare"))
    assert told.index("Heat comes from") < told.index("Both methods") < told.index("What decides")


def test_every_temperature_has_its_band(words, warm):
    heat = heat_of(warm)
    for one in heat.devices.values():
        for value in (one.air, one.surface):
            assert f"{value.value:.0f} ± {value.band:.0f} °C" in words
    for wall in heat.ducts.values():
        value = wall.temperature
        assert f"{value.value:.0f} ± {value.band:.0f} °C" in words
    level = heat.level
    assert re.search(rf"{level.by_walls:.1f} ± \d+\.\d °C", words)
    if level.by_power_law is not None:
        assert re.search(rf"{level.by_power_law:.1f} ± \d+\.\d °C", words)
        assert f"{level.difference:+.1f} K" in words


@pytest.mark.parametrize(
    ("fields", "wanted"),
    [
        ({"distance": 16.0, "needed": 100.0, "needed_band": 25.0}, "over"),
        ({"distance": 80.0, "needed": 100.0, "needed_band": 25.0}, "undecided"),
        ({"distance": 125.0, "needed": 100.0, "needed_band": 25.0}, "within"),
        ({"needed": None}, "over"),
        ({"needed": 0.0}, "–"),
        ({"other_is_duct": True, "temperature": Banded(66.0, 8.0), "limit": 60.0}, "undecided"),
        ({"other_is_duct": True, "temperature": Banded(69.0, 8.0), "limit": 60.0}, "over"),
        ({"other_is_duct": True, "temperature": Banded(52.0, 8.0), "limit": 60.0}, "within"),
    ],
)
@pytest.mark.parametrize("stated", [None, 0.0])
def test_each_gap_has_its_verdict_or_why_none(warm, fields, wanted, stated):
    """A stated clear space decides instead of what is worked out; a duct's warmth counts anyway."""
    one = next(iter(heat_of(warm).facings))
    one = replace(one, **({"other_is_duct": False, "distance": 20.0} | fields))
    name = warm.job.devices[one.tag].part
    part = replace(warm.job.parts[name], **{f"clear_{one.side}": stated})
    job = replace(warm.job, parts={**warm.job.parts, name: part})
    told = facing_verdict(replace(warm, job=job), one)
    is_missed = not one.other_is_duct and wanted in {"over", "undecided"}
    assert told == ("0 mm stated" if stated == 0 and is_missed else wanted)


def test_each_gap_that_misses_a_rule_is_missed_in_the_table(warm):
    """The table and heat.heat-gap never part: the rule's own misses, pair by pair."""
    missed = [f for f in run_rules(warm) if f.rule.id == "heat.heat-gap"]
    missed = [f for f in missed if f.verdict.name not in {"PASS", "NOT_APPLICABLE"}]
    pairs = [(f, facing_verdict(warm, f)) for f in heat_of(warm).facings]
    told = {
        f"{f.side} of {f.tag}, to {f.other}"
        for f, word in pairs
        if word in {"over", "undecided"} and not f.other_is_duct
    }
    said = " ".join(one.message for one in missed)
    assert told
    assert {words for words in told if words in said} == told
    assert said.count(", to -") == len(told)


def test_what_needs_no_gap_is_said(words):
    assert "no gap" not in words
    assert "Needed none: the device's own housing stays within the limit" in words


def test_both_methods_are_told_even_where_one_has_no_answer(panel, findings):
    settings = panel.job.settings
    aired = replace(settings, air=replace(settings.air, fan=50.0))
    words = words_of(replace(panel, job=replace(panel.job, settings=aired)), findings)
    assert "No power law: it does not cover fans" in words


def test_what_changes_the_answer_most_stands_first_and_is_worked_out_again(warm):
    heat = heat_of(warm)
    found = variants(warm, heat)
    sizes = [abs(round(one.change, 1)) for one in found]
    assert sizes == sorted(sizes, reverse=True)
    told = {one.what: one for one in found}
    more = told["true losses 30 % more"]
    parts = {
        name: replace(part, heat=None if part.heat is None else 1.3 * part.heat)
        for name, part in warm.job.parts.items()
    }
    again = worked_out(replace(warm, job=replace(warm.job, parts=parts)))
    assert more.inside == pytest.approx(again.level.inside.value)
    assert more.margin == (least_margin(again) or [None])[0]
    assert more.change > 0 > told["true losses 30 % less"].change
    outside = heat.level.outside + 5
    # more outside air: the inside follows by a little less, films are better where it is warmer
    assert 3.5 < told[f"air outside {outside:g} °C"].change < 5.0
    assert told["enclosure 100 mm deeper"].change < 0
    assert len(found) >= 9


def test_a_job_without_a_layout_still_has_its_report(bare_panel, findings):
    words = words_of(bare_panel, findings)
    assert "Air inside" in words
    assert "Where it is warm" not in words


def test_the_list_holds_every_placed_device(panel, findings):
    table = listings()["heat"].make(panel, findings)
    assert {row[0] for row in table.rows} == set(heat_of(panel).devices)
    assert all(len(row) == len(table.columns) for row in table.rows)
