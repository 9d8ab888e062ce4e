"""Tags too wide for their boxes on the picture of temperature are led out, clear of all else."""

import pytest

from platewright.drawing.clip import clipped
from platewright.drawing.extent import text_box
from platewright.drawing.picture import Line, Rect, Text
from platewright.model.geometry import Box
from platewright.sheets.heat_tags import Unnamed, led_out

AREA = Box(0, 0, 100, 100)


def unnamed(tag, left, bottom=50, wide=3, high=10, figure="41"):
    return Unnamed(tag=tag, box=Box(left, bottom, left + wide, bottom + high), figure=figure)


def drawn(things, taken=(), shunned=()):
    parts = list(led_out(things, AREA, [*taken, *(one.box for one in things)], list(shunned)))
    texts = [p for p in parts if isinstance(p, Text)]
    leaders = [p for p in parts if isinstance(p, Line)]
    assert len(texts) == len(leaders) == len([p for p in parts if isinstance(p, Rect)])
    return texts, leaders


def test_alike_neighbours_share_words_others_have_their_own():
    row = [unnamed(f"-K{n}", 30 + 3 * n, figure=str(40 + n)) for n in range(1, 5)]
    row += [unnamed("-F1", 45), unnamed("-K9", 48, high=6), unnamed("-K8", 60, figure="")]
    texts, _ = drawn(row)
    assert sorted(t.text for t in texts) == ["-F1  41", "-K1 … -K4  41 to 44", "-K8", "-K9  41"]


def test_numbers_that_jump_are_told_one_by_one_in_the_order_they_stand():
    row = [unnamed(tag, 30 + 3 * n) for n, tag in enumerate(["-K7", "-K4", "-K3"])]
    (text,), _ = drawn(row)
    assert text.text == "-K7, -K4, -K3  41"


def test_a_leader_begins_in_its_device_and_meets_nothing_else():
    things = [unnamed("-K1", 20), unnamed("-F1", 24, high=14), unnamed("-Q1", 28)]
    wall = Box(0, 66, 100, 72)
    texts, leaders = drawn(things, taken=[wall])
    boxes = [text_box(t) for t in texts]
    for number, (text, leader) in enumerate(zip(texts, leaders, strict=True)):
        owner = next(one for one in things if text.text.startswith(one.tag))
        assert owner.box.contains(leader.start)
        assert AREA.contains(text_box(text).centre)
        assert not text_box(text).overlaps(wall)
        others = [one.box for one in things if one is not owner] + boxes[:number] + [wall]
        assert all(clipped(leader.start, leader.end, box) is None for box in others)
        assert not any(text_box(text).overlaps(box) for box in boxes[:number])


@pytest.mark.parametrize(("shunned", "is_above"), [((), True), ((Box(0, 60, 100, 100),), False)])
def test_words_keep_off_ducts_where_there_is_other_room(shunned, is_above):
    (text,), _ = drawn([unnamed("-K1", 50)], shunned=shunned)
    assert (text.at.y > 55) is is_above


def test_without_any_room_there_are_no_words():
    assert drawn([unnamed("-K1", 50)], taken=[Box(0, 60, 100, 100), Box(0, 0, 100, 50)]) == ([], [])
