"""Wishes obeyed and not, on two rows: -A1 -A2 -A3 above, -A4 below."""

import pytest

from platewright.model.device import Edge

from ..builders import device, panel, part, told, verdict

RULE = "space.wishes"


def wished(**wish):
    tag = wish.pop("of", "-A1")
    places = {"-A1": (100, 300), "-A2": (150, 310), "-A3": (200, 300), "-A4": (150, 100)}
    return panel(
        parts=[part()],
        devices=[
            (device(name, **(wish if name == tag else {})), place) for name, place in places.items()
        ],
    )


@pytest.mark.parametrize(
    ("wish", "wanted"),
    [
        ({"beside": "-A2"}, "PASS"),
        ({"beside": "-A3"}, "CAUTION"),
        ({"beside": "-A4"}, "CAUTION"),
        ({"same_row": "-A3"}, "PASS"),
        ({"same_row": "-A4"}, "CAUTION"),
        ({"before": "-A2"}, "PASS"),
        ({"before": "-A4"}, "PASS"),
        ({"before": "-A1", "of": "-A2"}, "CAUTION"),
        ({"before": "-A1", "of": "-A4"}, "CAUTION"),
        ({"not_beside": "-A3"}, "PASS"),
        ({"not_beside": "-A4"}, "PASS"),
        ({"not_beside": "-A2"}, "CAUTION"),
        ({"at": Edge.TOP}, "PASS"),
        ({"at": Edge.BOTTOM}, "CAUTION"),
        ({"at": Edge.BOTTOM, "of": "-A4"}, "PASS"),
        ({"at": Edge.TOP, "of": "-A4"}, "CAUTION"),
    ],
)
def test_each_wish(wish, wanted):
    here = wished(**wish)
    assert verdict(RULE, here) == wanted
    assert len(told(RULE, here)) == 1


def test_no_wish_is_nothing_to_look_at():
    assert verdict(RULE, wished()) == "NOT_APPLICABLE"
