import pytest

from platewright.tables.rails import RailRating, rail_profile, rail_profiles, rail_rating
from platewright.tables.reader import read_table


def test_names_say_the_size() -> None:
    # IEC 60715: the name of a top-hat rail is its width and its height
    for name in ("TH15-5.5", "TH35-7.5", "TH35-15"):
        found = rail_profile(name)
        assert found is not None
        width, height = name.removeprefix("TH").split("-")
        assert (found.width, found.height) == (float(width), float(height))
    assert rail_profile("TH99") is None


@pytest.mark.parametrize("row", read_table("rail_ratings", RailRating))
def test_short_time_current_is_120_ampere_per_square_millimetre(row: RailRating) -> None:
    # IEC 60947-7-2: every rating stands for its copper-equivalent area
    assert row.short_time == pytest.approx(120 * row.copper_area)
    assert row.profile in rail_profiles()


def test_continuous_currents() -> None:
    # IEC 60947-7-2, rail table
    rows = [row for row in read_table("rail_ratings", RailRating) if row.continuous is not None]
    assert {(row.profile, row.material): row.continuous for row in rows} == {
        ("TH35-15-2.3", "copper"): 309,
        ("G32", "copper"): 269,
        ("G32", "aluminium"): 192,
    }


def test_channels_of_top_hat_rails() -> None:
    # DIN EN 60947-7-2 rail table: 27 outside, 24 where the sheet is 2.3 thick
    for name, channel in (("TH35-7.5", 27), ("TH35-15", 27), ("TH35-15-2.3", 24)):
        found = rail_profile(name)
        assert found is not None
        assert found.channel == channel


def test_small_rails_from_memory() -> None:
    # IEC 60715: TH15 is 1.0 thick with a channel of 10.5, G32 is 32 wide, 15 high and 1.5 thick
    small, asymmetric = rail_profile("TH15-5.5"), rail_profile("G32")
    assert small is not None
    assert asymmetric is not None
    assert (small.thickness, small.channel) == (1.0, 10.5)
    assert (asymmetric.width, asymmetric.height, asymmetric.thickness) == (32, 15, 1.5)


def test_no_rating_for_what_is_not_rated() -> None:
    assert rail_rating("TH35-7.5", "copper") is None
