"""At the limit, just inside, just outside, and what the sentence says."""

import math

import pytest

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Verdict
from platewright.rules.judge import (
    Limit,
    apart,
    at_least,
    at_most,
    between,
    breaks,
    holds,
    job_limit,
    undecided,
)

PUBLISHED = Source("a standard", "1.2")
PRACTICE = Source("shop practice", standing=Standing.PRACTICE)
TEN = Limit(value=10.0, source=PUBLISHED)


def most(measured, limit=TEN):
    return at_most("-X1", what="width", measured=measured, limit=limit, cure="Do it")


def least(measured, limit=TEN):
    return at_least("-X1", what="width", measured=measured, limit=limit, cure="Do it")


@pytest.mark.parametrize(
    ("measured", "passes"),
    [(10.0, True), (9.999, True), (10.001, False), (10.000001, True), (10.0001, False)],
)
def test_at_most_three_points_and_the_tolerance(measured, passes):
    reading = most(measured)
    assert (reading.verdict is Verdict.PASS) is passes
    assert bool(reading.cure) is not passes


@pytest.mark.parametrize(
    ("measured", "passes"),
    [(10.0, True), (10.001, True), (9.999, False), (9.999999, True), (9.9999, False)],
)
def test_at_least_three_points_and_the_tolerance(measured, passes):
    assert (least(measured).verdict is Verdict.PASS) is passes


@pytest.mark.parametrize(
    ("measured", "passes", "limit"),
    [(1, True, 1), (3, True, 3), (2, True, 3), (0.999, False, 1), (3.001, False, 3)],
)
def test_between_names_the_nearer_limit(measured, passes, limit):
    low, high = Limit(value=1.0, source=PRACTICE), Limit(value=3.0, source=PRACTICE)
    reading = between("s", what="w", measured=measured, limits=(low, high), cure="c")
    assert (reading.verdict is Verdict.PASS) is passes
    assert reading.limit == limit


def test_between_refuses_limits_the_wrong_way_round():
    low, high = Limit(value=1.0, source=PRACTICE), Limit(value=3.0, source=PRACTICE)
    with pytest.raises(ValueError, match="lies above"):
        between("s", what="w", measured=2.0, limits=(high, low), cure="c")


@pytest.mark.parametrize("judge", [most, least])
@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_numbers_that_are_not_finite_are_refused(judge, bad):
    with pytest.raises(ValueError, match="not a finite number"):
        judge(bad)
    with pytest.raises(ValueError, match="not a finite number"):
        judge(1.0, Limit(value=bad, source=PUBLISHED))


@pytest.mark.parametrize("standing", list(Standing))
def test_only_sources_that_carry_can_fail(standing):
    limit = Limit(value=10.0, source=Source("d", standing=standing))
    carries = standing in (Standing.GEOMETRY, Standing.JOB, Standing.PUBLISHED)
    wanted = Verdict.FAIL if carries else Verdict.CAUTION
    assert most(11.0, limit).verdict is wanted
    assert breaks("s", message="m", cure="c", source=limit.source).verdict is wanted


def test_both_numbers_are_printed_apart():
    assert most(10.04).message == "width 10.04 mm, at most 10 mm"
    assert "10.0001 mm, at most 10 mm" in most(10.0001).message
    assert most(10.0).message == "width 10 mm, at most 10 mm"


@pytest.mark.parametrize("measured", [10.04, 9.96, 10.0004, 9.9997, 10.00002, 12.0])
def test_a_missed_limit_never_reads_as_met(measured):
    assert len(set(apart(measured, 10.0))) == 2


def test_minus_zero_is_not_printed():
    assert apart(-0.0, 5.0) == ("0", "5")


def test_a_job_limit_names_what_it_stands_in_for():
    own = Limit(value=50.0, source=PRACTICE, unit="%")
    assert job_limit("limits.duct_fill", stated=None, own=own) is own
    limit = job_limit("limits.duct_fill", stated=60.0, own=own)
    reading = most(61.0, limit)
    assert reading.verdict is Verdict.FAIL
    assert reading.source == Source("job.toml", "limits.duct_fill", Standing.JOB)
    assert "instead of 50 % by shop practice" in reading.message


def test_missing_data_are_never_a_pass():
    assert undecided("s", missing="no heat", cure="c").verdict is Verdict.UNDECIDED
    assert holds("s", message="m").verdict is Verdict.PASS
