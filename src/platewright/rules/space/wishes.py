"""Wishes for the place of a device, told one by one where they are not obeyed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.device import Edge
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import breaks, holds
from platewright.rules.placed import Placed, placed_devices
from platewright.rules.registry import rule
from platewright.rules.rows import Row, rows_of

SOURCE: Final = Source("devices.csv", "wishes", Standing.PRACTICE)


@rule(
    id="space.wishes",
    title="Wishes are obeyed",
    why="Who knows the machine asked for this order: an operator's reach, a habit of the shop, a "
    "signal kept away from a converter. A wish may give way, but never unseen.",
    source=SOURCE,
)
def check_wishes(panel: Panel) -> Iterator[Reading]:
    """Compare rows and neighbours with beside, same_row, before, not_beside and at."""
    rows = rows_of(placed_devices(panel))
    spot = {
        one.tag: (number, place)
        for number, row in enumerate(rows)
        for place, one in enumerate(row.devices)
    }
    for row in rows:
        for one in row.devices:
            yield from _wishes_of(one, spot, rows)


def _wishes_of(
    one: Placed, spot: dict[str, tuple[int, int]], rows: tuple[Row, ...]
) -> Iterator[Reading]:
    device, here = one.device, spot[one.tag]
    wishes = (
        (device.beside, "beside", lambda there: _are_neighbours(rows, here, there)),
        (device.same_row, "in the row of", lambda there: here[0] == there[0]),
        (
            device.before,
            "left of or in a higher row than",
            lambda there: _is_before(rows, here, there),
        ),
        (device.not_beside, "away from", lambda there: not _are_neighbours(rows, here, there)),
    )
    for other, words, is_obeyed in wishes:
        if other in spot and other is not None:
            yield _told(one, f"{words} {other}", is_obeyed=is_obeyed(spot[other]))
    if device.at is not None:
        last = 0 if device.at is Edge.TOP else len(rows) - 1
        yield _told(one, f"in the {device.at} row", is_obeyed=here[0] == last)


def _are_neighbours(rows: tuple[Row, ...], here: tuple[int, int], there: tuple[int, int]) -> bool:
    """Tell whether two devices of one row have no third one between them."""
    if here[0] != there[0]:
        return False
    row = rows[here[0]].devices
    left, right = sorted((row[here[1]], row[there[1]]), key=lambda one: one.body.left)
    return not any(
        one.body.left >= left.body.right and one.body.right <= right.body.left
        for one in row
        if one not in (left, right)
    )


def _is_before(rows: tuple[Row, ...], here: tuple[int, int], there: tuple[int, int]) -> bool:
    if here[0] != there[0]:
        return here[0] < there[0]
    row = rows[here[0]].devices
    return row[here[1]].body.centre.x < row[there[1]].body.centre.x


def _told(one: Placed, wish: str, *, is_obeyed: bool) -> Reading:
    if is_obeyed:
        return holds(one.tag, message=f"stands {wish}, as wished", place=one.body)
    return breaks(
        one.tag,
        message=f"{one.tag} does not stand {wish}, as wished",
        cure=f"Move {one.tag} {wish}, or take the wish out of devices.csv",
        source=SOURCE,
        place=one.body,
    )
