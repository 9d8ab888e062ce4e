"""The enclosure: what fits is planned, what can't is proved, and the right two are named."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from platewright.app.plans.plan import Budget, plan
from platewright.app.plans.size import Outcome, door_span, in_order, job_in, size_folder, volume
from platewright.foundation.errors import InputErrors
from platewright.jobfile.enclosures import read_enclosures
from platewright.jobfile.folder import read_job
from platewright.model.finding import Verdict
from platewright.model.layout import Layout
from platewright.rules.registry import run_rules

from .small_jobs import write_job, write_list

RINSER = Path(__file__).resolve().parents[2] / "examples" / "bottle-rinser"


def _size(folder: Path, *, every: bool = False, enclosures: Path | None = None):
    return size_folder(
        folder, enclosures=enclosures, seed=1, moves=600, every=every, progress=lambda _s, _t: True
    )


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("jobs") / "pump"
    write_job(folder, head='shop_enclosures = "enclosures.csv"')
    write_list(folder)
    return folder


def test_the_smallest_and_the_cheapest_that_fit_are_named(folder: Path) -> None:
    found = _size(folder)
    outcome = {row.enclosure.name: row.outcome for row in found.rows}
    assert outcome["flat"] is Outcome.PROVED
    assert outcome["tiny"] is Outcome.PROVED
    assert outcome["hall"] is Outcome.NOT_TRIED
    assert found.smallest is not None
    assert found.cheapest is not None
    fits = [row.enclosure for row in found.rows if row.fits]
    assert found.smallest == min(fits, key=volume)
    assert found.cheapest == min(fits, key=lambda e: e.price or 0)
    assert not (folder / "layout.toml").exists()


def test_each_that_fails_says_why(folder: Path) -> None:
    why = {row.enclosure.name: row.why for row in _size(folder).rows}
    assert "mm out of the plate; the door leaves 60 mm" in why["flat"]
    assert "mm of height with its wiring" in why["tiny"]
    assert "not cheaper" in why["hall"]


def test_every_one_is_tried_where_asked(folder: Path) -> None:
    outcome = {row.enclosure.name: row.outcome for row in _size(folder, every=True).rows}
    assert outcome["hall"] is Outcome.FITS
    assert Outcome.NOT_TRIED not in outcome.values()


def test_spare_room_asks_for_a_larger_one(folder: Path, tmp_path: Path) -> None:
    smallest = _size(folder).smallest
    generous = write_job(tmp_path / "pump", tail="[limits]\nspare_share = 0.6\n")
    roomier = _size(generous, enclosures=write_list(generous)).smallest
    assert smallest is not None
    assert roomier is not None
    assert volume(roomier) > volume(smallest)


def test_a_stated_temperature_is_kept(tmp_path: Path) -> None:
    cold = write_job(tmp_path / "pump", tail="[air]\noutside_degc = 35\ninside_degc = 35.5\n")
    found = _size(cold, enclosures=write_list(cold), every=True)
    warm = [row for row in found.rows if row.outcome is Outcome.TOO_WARM]
    assert warm
    assert all("the job wants at most 35.5 °C" in row.why for row in warm)
    assert all(row.inside is not None and row.inside > 35.5 for row in warm)
    assert all(row.inside is None or row.inside <= 35.5 for row in found.rows if row.fits)


@pytest.mark.parametrize(
    ("spare", "outcome"),
    [
        (-6.0, Outcome.TOO_WARM),
        (-0.4, Outcome.MAYBE_WARM),
        (0.4, Outcome.MAYBE_WARM),
        (6.0, Outcome.FITS),
    ],
)
def test_a_band_that_reaches_over_what_is_wanted_neither_fits_nor_fails(
    tmp_path: Path, spare: float, outcome: Outcome
) -> None:
    """The same rule as that of the checks; the next larger one is taken."""
    air = "[air]\ninside_degc = {}\n"
    job = write_job(tmp_path / "free", tail=air.format(80))
    first = next(row for row in _size(job, enclosures=write_list(job), every=True).rows if row.fits)
    assert first.inside is not None
    wanted = round(first.inside + spare, 2)
    job = write_job(tmp_path / "near", tail=air.format(wanted))
    found = _size(job, enclosures=write_list(job), every=True)
    row = next(row for row in found.rows if row.enclosure.name == first.enclosure.name)
    assert row.outcome is outcome
    if outcome is Outcome.MAYBE_WARM:
        assert not row.fits
        assert f"{first.inside:.1f} ±" in row.why
        assert f"at most {wanted:g} °C" in row.why
        assert found.smallest != row.enclosure
        assert found.smallest is None or volume(found.smallest) > volume(row.enclosure)


def test_an_assumed_temperature_is_only_told(folder: Path) -> None:
    row = next(row for row in _size(folder).rows if row.fits)
    if row.inside is not None and row.inside > 40.0:
        assert any("is assumed as wanted" in remark for remark in row.remarks)


def test_an_enclosure_where_a_heat_check_fails_does_not_fit(tmp_path: Path) -> None:
    """The box is cool enough on the whole, but one device bears less than the air it stands in."""
    job = write_job(tmp_path / "pump", tail="[air]\noutside_degc = 35\ninside_degc = 60\n")
    (job / "parts.csv").write_text(
        "part,width_mm,height_mm,depth_mm,mount,rail_center_mm,heat_w,heat_limit_degc\n"
        "frail,45,90,70,rail,45,5,30\n",
        encoding="utf-8",
    )
    with (job / "devices.csv").open("a", encoding="utf-8") as devices:
        devices.write("-A1,frail\n")
    found = _size(job, enclosures=write_list(job), every=True)
    planned = [row for row in found.rows if row.worth is not None]
    assert planned
    assert all(row.outcome is Outcome.TOO_WARM for row in planned)
    assert all("heat." in row.why and "FAIL there" in row.why for row in planned)
    assert found.smallest is None


def test_the_job_in_another_enclosure_keeps_its_door_devices_from_the_middle() -> None:
    job = read_job(RINSER)
    enclosures = read_enclosures(RINSER.parent / "enclosures.csv")
    large = next(e for e in enclosures if e.name == "F 1200x2000x400")
    moved = job_in(job, large)
    shift = (large.plate_width - 750) / 2, (large.plate_height - 1150) / 2
    for device in job.on_door:
        there = moved.devices[device.tag]
        assert there.door_x == pytest.approx((device.door_x or 0.0) + shift[0])
        assert there.door_y == pytest.approx((device.door_y or 0.0) + shift[1])
    assert door_span(moved) == door_span(job)
    assert moved.settings.plate.keep_outs == ()
    assert {(h.x, h.y) for h in moved.settings.plate.fixing_holes} == {
        (25.0, 25.0), (1075.0, 25.0), (25.0, 1875.0), (1075.0, 1875.0),
    }  # fmt: skip


def test_door_devices_stay_on_a_smaller_door_as_long_as_they_fit() -> None:
    job = read_job(RINSER)
    one = next(
        e for e in read_enclosures(RINSER.parent / "enclosures.csv") if e.name == "W 800x1000x250"
    )
    moved = job_in(job, one)
    over = (one.width - one.plate_width) / 2, (one.height - one.plate_height) / 2
    for device in moved.on_door:
        part = moved.part_of(device.tag)
        assert device.door_x is not None
        assert device.door_y is not None
        assert -over[0] <= device.door_x <= one.plate_width + over[0] - part.width
        assert -over[1] <= device.door_y <= one.plate_height + over[1] - part.height


def test_order_is_by_volume_then_price(folder: Path) -> None:
    names = [e.name for e in in_order(read_enclosures(folder / "enclosures.csv"))]
    assert names == ["tiny", "flat", "narrow", "usual", "roomy", "hall"]


def test_without_a_list_it_is_asked_for(tmp_path: Path) -> None:
    with pytest.raises(InputErrors, match="shop_enclosures"):
        _size(write_job(tmp_path / "pump"))


def test_the_plan_keeps_the_spare_room_of_a_group(tmp_path: Path) -> None:
    """Two rows would do; the group's later devices ask for more, and the check agrees."""
    folder = write_job(
        tmp_path / "pump", plate=(440, 1000), tail='[[groups]]\nname = "M"\nspare_share = 0.4\n'
    )
    job = read_job(folder)
    grouped = {tag: replace(device, group=("M",)) for tag, device in job.devices.items()}
    planned = plan(
        replace(job, devices=grouped), Layout(), seed=1, budget=Budget(moves=2000),
        progress=lambda _s, _t: True,
    )  # fmt: skip
    (finding,) = run_rules(planned.panel, only=["space.spare"])
    assert (finding.subject, finding.verdict) == ("M", Verdict.PASS)
    assert finding.measured is not None
    assert finding.measured >= 40.0
    assert planned.rows > 2
