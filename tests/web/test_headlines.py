"""Findings reach the page with what became of their rule in front."""

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Finding, RuleInfo, Verdict
from platewright.web.wire_format import findings_record

RULE = RuleInfo(
    id="space.x", title="Doors close", why="", source=Source("geometry", "", Standing.GEOMETRY)
)


def test_the_page_is_told_what_became_of_a_rule():
    found = [
        Finding(rule=RULE, subject="-K1", verdict=verdict, message="", cure="", measured=None,
                limit=None, unit="", place=None, source=RULE.source)
        for verdict in (Verdict.FAIL, Verdict.CAUTION, Verdict.UNDECIDED)
    ]  # fmt: skip
    heads = [one["headline"] for one in findings_record(found, tuple(Verdict))]
    assert heads == ["Not kept: doors close", "Not fully kept: doors close", "Open: doors close"]
