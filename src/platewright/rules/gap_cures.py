"""One cure for all the gaps that a warm device lacks, and one reading for all of them.

A move is told only after it was tried: the device stays on the plate and clear of everything, and
the heat worked out anew finds every gap kept there and no new one lacking.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from platewright.foundation.units import Mm
from platewright.heat.facings import REACH
from platewright.heat.panel_heat import heat_of, worked_out
from platewright.model.finding import Reading, Verdict
from platewright.model.geometry import Box
from platewright.model.heat import Facing
from platewright.model.layout import Placement
from platewright.model.need import ClearSpace
from platewright.model.panel import Panel
from platewright.model.part import Mount
from platewright.rules.placed import Placed, carries, fixtures, placed_devices
from platewright.rules.wording import enough, length_of

SIDES: Final = ("left", "right", "top", "bottom")
SAID: Final = {"left": "left", "right": "right", "top": "above", "bottom": "below"}
STEPS: Final = {"left": (1, 0), "right": (-1, 0), "top": (0, -1), "bottom": (0, 1)}
WORDS: Final = {(1, 0): "right", (-1, 0): "left", (0, 1): "up", (0, -1): "down"}
TRIED_FOR: Final = 6  # devices short of a gap for which a move is tried; with more, all is too near
ROUND_UP: Final[Mm] = 0.1  # what the words round a move up by at most
RATED: Final = (
    ", use a metal duct there or one that bears more (limits.duct_temperature_degc in job.toml)"
)
BAD: Final = {Verdict.FAIL: 0, Verdict.CAUTION: 1, Verdict.UNDECIDED: 2}

_LAST: Final[list[tuple[Panel, dict[str, str]]]] = []  # cures of the panel looked at last


def gap_cure(panel: Panel, tag: str) -> str:
    """Return what cures all gaps of a warm device; worked out once a panel."""
    if not _LAST or _LAST[0][0] is not panel:
        _LAST[:] = [(panel, {})]
    known = _LAST[0][1]
    if tag not in known:
        known[tag] = _cure(panel, tag)
    return known[tag]


def at_once(told: Iterable[tuple[str, Reading]]) -> Iterator[Reading]:
    """Yield the readings of each device: those that pass, and the worst of the others for all."""
    missed: dict[str, list[Reading]] = {}
    for tag, reading in told:
        if reading.verdict in BAD:
            missed.setdefault(tag, []).append(reading)
        else:
            yield reading
    for readings in missed.values():
        worst, *others = sorted(readings, key=lambda r: (BAD[r.verdict], -_short(r)))
        also = "".join(f"; also {one.message}" for one in others)
        yield replace(worst, message=worst.message + also)


def _short(reading: Reading) -> float:
    if reading.measured is None or reading.limit is None:
        return 1e9
    return abs(reading.measured - reading.limit)


def _lacking(facings: Iterable[Facing]) -> list[Facing]:
    return [
        one
        for one in facings
        if one.needed is None or one.distance < one.needed + one.needed_band - 1e-6
    ]


def _cure(panel: Panel, tag: str) -> str:
    lacking = _lacking(one for one in heat_of(panel).facings if one.tag == tag)
    shorts: dict[str, Mm] = {}
    never = [one.side for one in lacking if one.needed is None]
    for one in lacking:
        if one.needed is not None:
            short = one.needed + one.needed_band - one.distance
            shorts[one.side] = max(short, shorts.get(one.side, 0.0))
    words = []
    if shorts:
        words.append(f"{tag} needs {_needs(shorts)}")
    if never:
        where = " and ".join(SAID[side] for side in SIDES if side in never)
        words.append(f"{where} of {tag} no gap up to {length_of(REACH, None)} is enough")
    move = "" if never else _move(panel, tag, shorts)
    part = panel.job.part_of(tag)
    screwed = "" if part.mount is Mount.SCREWS else "screw it to the bare plate, "
    ways = f"shield it, {screwed}cool the air, or take a part of less loss"
    is_duct = any(one.other_is_duct for one in lacking)
    if not words:  # its gaps are those worked out; only the estimate is not sharp
        return f"Where there is room give {tag} more, {ways}"
    if move:
        return f"{'; '.join(words)}: move it {move}. Or {ways}"
    if never:
        metal = "Use a metal duct there, " if is_duct else ""
        return f"{'; '.join(words)}. {metal or ways[0].upper()}{ways if metal else ways[1:]}"
    # the same plan again gives the same plate: only another weighing may have more room
    return (
        f"{'; '.join(words)}; no single move gives that here. Cool the air, shield it, "
        f"{screwed}take a part of less loss{RATED if is_duct else ''}, or see by plan --compare "
        "whether another preset gives more room"
    )


def _needs(shorts: dict[str, Mm]) -> str:
    """Return the gaps lacking in words, alike ones together: "10 mm more left and right"."""
    sides: dict[str, list[str]] = {}
    for side in SIDES:
        if side in shorts:
            sides.setdefault(enough(shorts[side]), []).append(SAID[side])
    return ", ".join(f"{length} more {' and '.join(names)}" for length, names in sides.items())


def _move(panel: Panel, tag: str, shorts: dict[str, Mm]) -> str:
    """Return the one straight move that gives every gap; blank: there is none."""
    ways = {STEPS[side] for side in shorts}
    if len(ways) != 1:
        return ""
    (step,) = ways
    far = max(shorts.values()) + ROUND_UP
    one = next((each for each in placed_devices(panel) if each.tag == tag), None)
    lacking = {each.tag for each in _lacking(heat_of(panel).facings)}
    if one is None or len(lacking) > TRIED_FOR:
        return ""
    if not _is_free(panel, one, (step[0] * far, step[1] * far)):
        return ""
    at = panel.layout.devices[tag]
    place = Placement(x=at.x + step[0] * far, y=at.y + step[1] * far)
    devices = {**panel.layout.devices, tag: place}
    after = worked_out(replace(panel, layout=replace(panel.layout, devices=devices)))
    if {each.tag for each in _lacking(after.facings)} - (lacking - {tag}):
        return ""
    return f"{enough(far - ROUND_UP)} {WORDS[step]}"


def _is_free(panel: Panel, one: Placed, by: tuple[Mm, Mm]) -> bool:
    """Tell whether a device may stand further by this much: on plate and rail, clear of all."""
    box, body = _shifted(one.envelope, by), _shifted(one.body, by)
    plate = panel.job.settings.plate
    edge = plate.edge_margin
    if min(box.left, box.bottom) < edge or box.right > plate.width - edge:
        return False
    if box.top > plate.height - edge or panel.layout.devices[one.tag].locked:
        return False
    if one.part.mount is Mount.RAIL and not _on_rail(panel, one, body):
        return False
    if any(box.overlaps(Box(k.x, k.y, k.x + k.width, k.y + k.height)) for k in plate.keep_outs):
        return False
    wide = _with_clear(box, panel.clear.get(one.tag))
    rails = panel.layout.rails
    fixed = (each for tag, each in fixtures(panel) if tag not in rails)
    return not any(wide.overlaps(each) for each in (*fixed, *_others(panel, one, box)))


def _others(panel: Panel, one: Placed, box: Box) -> Sequence[Box]:
    """Return the other devices, with their clear space where that is what stands in the way."""
    found = []
    for other in placed_devices(panel):
        if other.tag != one.tag:
            kept = _with_clear(other.envelope, panel.clear.get(other.tag))
            found.append(kept if box.overlaps(kept) else other.envelope)
    return found


def _on_rail(panel: Panel, one: Placed, body: Box) -> bool:
    moved = Placed(one.tag, one.device, one.part, body, body)
    return any(
        carries(rail, moved) and rail.x <= body.left and body.right <= rail.x + rail.length
        for rail in panel.layout.rails.values()
    )


def _with_clear(box: Box, clear: ClearSpace | None) -> Box:
    if clear is None:
        return box
    return box.grown(clear.left.room, clear.bottom.room, clear.right.room, clear.top.room)


def _shifted(box: Box, by: tuple[Mm, Mm]) -> Box:
    return Box(box.left + by[0], box.bottom + by[1], box.right + by[0], box.top + by[1])
