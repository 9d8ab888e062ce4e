"""The registry finds, runs, stamps and sorts."""

import dataclasses
import random
from pathlib import Path

import pytest

import platewright.rules
from platewright.foundation.sources import Source
from platewright.foundation.tag_order import tag_order
from platewright.model.finding import Verdict
from platewright.rules.registry import (
    SEVERITY,
    all_rules,
    rule,
    rule_infos,
    run_rules,
)

from .builders import boxes, device, duct, hole, panel, part, rail, settings, wire

RULES = Path(platewright.rules.__file__).parent
TESTS = Path(__file__).parent
CAUSES = {"heat.inside-air"}  # told before the other findings of their family
FAMILIES = sorted(folder.name for folder in RULES.iterdir() if (folder / "__init__.py").exists())


def crowded():
    """A panel on which many rules have something to say."""
    here = boxes((10, 10), (45, 10), (300, 300), (790, 590), depth=250.0, heat=None)
    return panel(
        parts=here["parts"],
        devices=[*here["devices"], (device("-A10"), None), (device("-A9"), None)],
        wires=[wire("1", "-A1:1", "-A2:1")],
        layout={
            "ducts": {"U2": duct(0, 50, 300), "U1": duct(100, 0, 200)},
            "rails": {"R1": rail(0, 320, 400)},
            "holes": {"H1": hole(1, 1), "H2": hole(3, 1)},
        },
        job=settings(plate={"edge_margin": 10.0}, groups=("M",)),
    )


def test_every_file_of_a_family_is_one_rule_of_its_name():
    files = {
        f"{family}.{file.stem.replace('_', '-')}"
        for family in FAMILIES
        for file in (RULES / family).glob("*.py")
        if file.stem != "__init__"
    }
    assert {info.id for info in rule_infos()} == files
    for one in all_rules():
        family, _, name = one.info.id.partition(".")
        assert one.check.__module__ == f"platewright.rules.{family}.{name.replace('-', '_')}"


def test_every_rule_has_a_test_file():
    for info in rule_infos():
        family, _, name = info.id.partition(".")
        assert (TESTS / family / f"test_{name.replace('-', '_')}.py").exists(), info.id


def test_every_rule_says_what_why_and_by_whom():
    for info in rule_infos():
        assert len(info.title) > 8, info.id
        assert info.why.endswith("."), info.id
        assert len(info.why) > 40, info.id
        assert info.source.document, info.id


def test_every_file_opens_with_one_sentence():
    for one in all_rules():
        module = __import__(one.check.__module__, fromlist=["x"])
        assert (module.__doc__ or "").strip().endswith("."), one.info.id


def test_two_rules_of_one_name_are_refused():
    name = rule_infos()[0].id
    with pytest.raises(ValueError, match="two rules"):
        rule(id=name, title="t", why="w", source=Source("s"))(lambda _: iter(()))


def test_findings_are_stamped_and_sorted():
    findings = run_rules(crowded())
    assert {found.rule.id for found in findings} == {info.id for info in rule_infos()}
    keys = [
        (
            SEVERITY[found.verdict],
            found.rule.id.partition(".")[0],
            found.rule.id not in CAUSES,
            found.rule.id,
            tag_order(found.subject),
            found.message,
        )
        for found in findings
    ]
    assert keys == sorted(keys)
    assert findings[0].verdict is Verdict.FAIL
    assert all(found.source.document for found in findings)
    assert all(found.cure for found in findings if found.verdict is Verdict.FAIL)


def test_numbers_in_tags_are_sorted_as_numbers():
    unplaced = [found.subject for found in run_rules(crowded(), only=["space.unplaced"])]
    assert unplaced == ["-A9", "-A10"]


def test_an_empty_panel_is_not_passed_by_rules_that_look_at_nothing():
    looked = {found.rule.id for found in run_rules(panel()) if found.verdict != "NOT_APPLICABLE"}
    assert looked == {"data.plate-thickness"}


def test_only_takes_rules_and_families():
    assert {found.rule.id for found in run_rules(crowded(), only=["space.depth"])} == {
        "space.depth"
    }
    families = {found.rule.id.partition(".")[0] for found in run_rules(crowded(), only=["data"])}
    assert families == {"data"}
    with pytest.raises(ValueError, match=r"Did you mean space\.depth"):
        run_rules(crowded(), only=["space.depht"])


def test_the_same_panel_gives_the_same_findings_twice():
    assert run_rules(crowded()) == run_rules(crowded())


@pytest.mark.parametrize("seed", range(5))
def test_the_order_of_lists_changes_nothing(seed):
    mixed = random.Random(seed)

    def shuffled(mapping):
        return dict(mixed.sample(list(mapping.items()), len(mapping)))

    one = crowded()
    job = dataclasses.replace(one.job, devices=shuffled(one.job.devices))
    layout = dataclasses.replace(
        one.layout,
        devices=shuffled(one.layout.devices),
        ducts=shuffled(one.layout.ducts),
        holes=shuffled(one.layout.holes),
    )
    other = dataclasses.replace(one, job=job, layout=layout, clear=shuffled(one.clear))
    assert run_rules(other) == run_rules(one)


def test_a_part_that_states_everything_leaves_no_open_datum():
    full = part(
        heat=5.0,
        mass=0.4,
        mount_torque=2.0,
        terminal_torque=1.0,
        hole_pattern_width=30.0,
        hole_pattern_height=70.0,
        screw="M5",
    )
    findings = run_rules(panel(parts=[full], devices=[(device("-A1"), (50, 50))]), only=["data"])
    assert {found.verdict for found in findings} <= {Verdict.PASS, Verdict.NOT_APPLICABLE}
