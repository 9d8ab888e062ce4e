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


def test_no_rating_for_what_is_not_rated() -> None:
    assert rail_rating("TH35-7.5", "copper") is None
