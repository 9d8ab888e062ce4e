"""What the steps of the build say: plain words for the bench, cautions where work can hurt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from platewright.fabricate.build_tasks import HUNG, Bench
from platewright.fabricate.drill_names import combined_words, drill_name, foreign_words
from platewright.fabricate.end_stops import rail_ends, stop_words
from platewright.fabricate.holding import hole_in_base
from platewright.fabricate.slots import slots_of
from platewright.fabricate.threads import takes_combined
from platewright.fabricate.torques import tightening
from platewright.foundation.tag_order import in_ranges
from platewright.foundation.units import MM2_PER_M2, NM_PER_LB_IN, Kg, Nm
from platewright.model.job import DisplayUnit
from platewright.model.layout import HoleKind
from platewright.model.lengths import (
    mass_words,
    said,
    thickness_words,
    way_words,
    whole_mass,
    with_unit,
)
from platewright.model.part import HoleForm
from platewright.model.steps import Pass, Stand, Work
from platewright.tables.plate_masses import plate_mass
from platewright.tables.threads import thread
from platewright.tables.tools import tool

EYES: Final = "Eye protection on. Gloves off and sleeves tied at the spindle."
EDGES: Final = "Sheet edges and fresh cuts are sharp: gloves on for carrying, not at the spindle."
CLAMP: Final = "Clamp the plate to the bench; never hold it by hand while drilling."
CHIPS: Final = "Take chips off with vacuum, brush and magnet, never with compressed air."
DEAD: Final = "Wire with the panel dead: no supply connected, stored charge let off."


def plate_kg(bench: Bench) -> Kg | None:
    """Return the mass of the bare plate; ``None``: the material is not in the table."""
    plate = bench.job.settings.plate
    square = plate_mass(plate.material)
    if square is None:
        return None
    return square * plate.thickness * plate.width * plate.height / MM2_PER_M2


def lifting(bench: Bench) -> str:
    """Return the caution for lifting the plate."""
    mass = plate_kg(bench)
    if mass is None:
        return "Weigh the plate before lifting it: its material's mass is not known here."
    words = f"The bare plate weighs about {whole_mass(mass, bench.job.settings.units)}"
    many = mass > tool("two persons from")
    return words + (": two persons or a hoist lift it." if many else ".")


def lifting_built(bench: Bench) -> str:
    """Return the caution for lifting the plate with all that is mounted on it."""
    bare = plate_kg(bench)
    masses = [bench.job.part_of(tag).mass for tag in bench.layout.devices]
    known = sum(mass for mass in masses if mass is not None)
    open_ones = masses.count(None)
    unit = bench.job.settings.units
    words = f"The built plate weighs {whole_mass((bare or 0.0) + known, unit)} or more"
    words += f" (devices {whole_mass(known, unit)}" + (
        f", {open_ones} not stated" if open_ones else ""
    )
    words += "; rails, ducts and wires not counted"
    words += ")" if bare is not None else "; the plate's own mass is not known)"
    many = bare is None or bare + known > tool("two persons from")
    return words + (": two persons or a hoist lift it." if many else ".")


def torque_text(torque: Nm) -> str:
    """Return a torque in both units of the trade."""
    return f"{torque:.3g} N·m ({torque / NM_PER_LB_IN:.0f} lb·in)"


def check_words(bench: Bench) -> Iterator[str]:
    """Yield what is checked before anything is cut."""
    plate, unit = bench.job.settings.plate, bench.job.settings.units
    yield (
        f"Measure the plate: {said(plate.width, unit)} × {with_unit(plate.height, unit)}, "
        f"{thickness_words(plate.thickness, unit)} {plate.material}; both diagonals equal; flat; its own holes where drawn."
    )
    yield "Mark the datum corner (lower left) and the front; leave the film on until drilled."
    yield "Measure width, height and depth of the devices as they came, covers and plugs on."
    yield (
        "Lay everything out dry once: devices on loose rails, covers on, and compare with the "
        "drawing. Then take all of it off."
    )


def pass_title(one: Pass, unit: DisplayUnit) -> str:
    """Return what one tool does and to how many holes, in a few words."""
    count = f"{len(one.holes)} hole{'' if len(one.holes) == 1 else 's'}"
    return f"{pass_name(one, unit)}{' ' if one.work is Work.MARK else ': '}{count}"


def pass_name(one: Pass, unit: DisplayUnit) -> str:
    """Return what one tool does."""
    if one.work is Work.MARK:
        return "Mark and centre-punch"
    if one.work is Work.TAP:
        foreign = foreign_words(one.size, unit)
        return f"Tap {one.size}{f' ({foreign})' if foreign else ''}"
    name = drill_name(one.diameter, unit)
    return f"Pilot drill {name}" if one.pilot else f"Drill {name}"


def pass_words(bench: Bench, one: Pass) -> Iterator[str]:
    """Yield how one tool is led over the plate."""
    if one.work is Work.MARK:
        yield "From the drill template, or measured from the two datum edges, never hole to hole."
        yield "Then measure two holes far apart from the datum as a check."
    elif one.work is Work.TAP:
        yield "Through, square to the plate, with cutting oil; try the first thread with a screw."
    else:
        yield "Try the drill on scrap of the same sheet. Drill through, easing off at the end."
        if not one.pilot:
            yield from _combined(bench, one.holes)
    unit = bench.job.settings.units
    for stand in one.stands:
        yield f"{_stand_words(bench, stand)}: {', '.join(stand.holes)}"
    yield (
        f"In this order, {way_words(one.way, unit)} from hole to hole; the first is ringed in the "
        f"picture. Count: {len(one.holes)} done."
    )


def _stand_words(bench: Bench, stand: Stand) -> str:
    """Return where to stand, for how many holes, and where the first one lies."""
    count = f"{len(stand.holes)} hole{'' if len(stand.holes) == 1 else 's'}"
    first = stand.holes[0]
    begin = f"the first, {first}, at the plate's {_corner(bench, first)}"
    if stand.beyond:
        return (
            f"Beyond arm's reach from every edge: {count}; set the plate upright or work from a "
            f"board across it, never leaning on the plate; {begin}"
        )
    return f"Stand at the {stand.edge.value} edge: {count} in reach, {begin}"


def _corner(bench: Bench, hole: str) -> str:
    """Return in which ninth of the plate a hole lies."""
    plate, at = bench.job.settings.plate, bench.layout.holes[hole]
    up = ("lower", "middle", "upper")[min(2, max(0, int(3 * at.y / plate.height)))]
    across = ("left", "middle", "right")[min(2, max(0, int(3 * at.x / plate.width)))]
    return "middle" if up == across else f"{up} {across}"


def _combined(bench: Bench, holes: Sequence[str]) -> Iterator[str]:
    """Yield for which threads a combined bit may drill and tap in one, and why."""
    plate = bench.job.settings.plate
    sizes = dict.fromkeys(
        hole.size for tag in holes if (hole := bench.layout.holes[tag]).kind is HoleKind.TAPPED
    )
    for size in sizes:
        known = thread(size)
        if known is not None and takes_combined(
            known, thickness=plate.thickness, material=plate.material
        ):
            yield (
                f"{size}: a combined bit may drill and tap in one here: "
                f"{combined_words(known, thickness=plate.thickness, unit=bench.job.settings.units)}."
            )


def pass_cautions(bench: Bench, one: Pass) -> tuple[str, ...]:
    """Return what can hurt while one tool is used."""
    if one.work is Work.MARK:
        return (lifting(bench), EDGES)
    return (EYES, CLAMP) if one.work is Work.DRILL else (EYES, "Tap ends are sharp and break.")


def take_off_words(bench: Bench) -> Iterator[str]:
    """Yield what comes off, and why."""
    devices = [tag for tag in bench.removed if tag in bench.layout.devices]
    yield (
        "Every device that stands on the plate: nothing is drilled with a device on, chips get "
        "into it."
    )
    screwed = [tag for tag in devices if bench.screws[tag]]
    hung = [tag for tag in devices if not bench.screws[tag]]
    if screwed:
        yield f"By the holes drilled these may stand at their places: {', '.join(screwed)}."
    if hung:
        yield (
            f"No hole of their own tells whether these are on yet or are new; if one already stands "
            f"there, take it off: {', '.join(hung)}."
        )
    if bench.left_over:
        told = [
            f"perhaps {tag} on {runs(one.holes)}, before it was moved"
            for tag, one in bench.moved.items()
        ]
        by_pattern = f" By their pattern {'; '.join(told)}." if told else ""
        yield (
            f"Whatever still hangs on holes that are left over: {runs(bench.left_over)}."
            f"{by_pattern}"
        )
    for tag, why in bench.removed.items():
        if tag not in bench.layout.devices:
            more = f" (and {len(why) - 1} more)" if len(why) > 1 else ""
            yield f"{tag}, if it is on already: {why[0]}{more}"
    yield "What stays on is covered while drilling, and vacuumed after it."


def runs(holes: Sequence[str]) -> str:
    """Return the tags of holes in few words, as text that can be wrapped."""
    return in_ranges(holes).replace(",", ", ")


def wipe_off_words(bench: Bench) -> Iterator[str]:
    """Yield where the marks lie that nothing is drilled at, and how they are made void."""
    unit = bench.job.settings.units
    yield "Marked for what stands elsewhere now, or no more: none of them is drilled."
    places = [
        f"{tag} at {said(hole.x, unit)}, {with_unit(hole.y, unit)}"
        for tag in bench.idle_marks
        for hole in (bench.layout.holes[tag],)
    ]
    yield f"{'; '.join(places)}."
    yield (
        "Wipe the ink off; cross a punch mark out, so that nobody takes it for one to drill. Then "
        f"write it down: platewright as-built JOB --give-up {in_ranges(bench.idle_marks)}"
    )


def base_words(bench: Bench, tags: Sequence[str]) -> Iterator[str]:
    """Yield what of their bases ducts are held by: their own slots, or holes drilled for it."""
    layout, job = bench.layout, bench.job
    bare = [tag for tag in tags if slots_of(layout.ducts[tag], job.settings.stock) is None]
    slotted = [tag for tag in tags if tag not in bare]
    if slotted:
        yield f"In the bases' own slots, the first slot as the cut list says: {', '.join(slotted)}."
    if bare:
        name = drill_name(hole_in_base(job), job.settings.units)
        yield (
            f"Bases without slots stated are drilled {name} where they are fixed (places in the cut "
            f"list): {', '.join(bare)}."
        )


def cut_duct_words(bench: Bench) -> Iterator[str]:
    """Yield what is done to ducts at the saw, before they come near the plate."""
    layout, job = bench.layout, bench.job
    yield "Cut the covers now, label them, and set them aside."
    if any(slots_of(duct, job.settings.stock) is None for duct in layout.ducts.values()):
        name = drill_name(hole_in_base(job), job.settings.units)
        yield (
            f"Drill bases without slots {name} on wood, at the places in the cut list: no chip of "
            "it falls on the plate."
        )


def fit_words(bench: Bench, tags: Sequence[str]) -> Iterator[str]:
    """Yield how things are put in place."""
    layout, job = bench.layout, bench.job
    rails = sorted({bench.rail_of.get(tag, "") for tag in tags} - {""})
    if tags[0] in layout.rails:
        yield "Lightly screwed at first; the first slot as the cut list says; square to the datum."
        yield "Paint off and a toothed washer where a rail is bonded to the plate."
    elif tags[0] in layout.ducts:
        yield "Bases only, covers aside. Washers under the heads: plastic creeps."
        yield from base_words(bench, tags)
        high = max(layout.ducts[tag].height for tag in tags)
        if high >= tool("deep duct"):
            yield f"Walls {with_unit(high, job.settings.units)} high: lead the screws down on a magnetic bit."
    elif rails:
        along = sorted(tags, key=lambda tag: (layout.devices[tag].x, tag))
        if tuple(along) == tuple(tags):
            yield f"Snap on from left to right: {', '.join(tags)}."
        else:
            yield f"On the rail from left to right: {', '.join(along)}."
            yield f"Snapped on in this order, as some hold others: {', '.join(tags)}."
        ends = rail_ends(job, layout)
        for rail in rails:
            yield stop_words(tuple(end for end in ends if end.rail == rail), job.settings.units)
    else:
        yield "The heaviest first."
        hung = [tag for tag in tags if job.part_of(tag).hole_form in HUNG]
        if hung:
            yield f"Hang on the screws that were started: {', '.join(hung)}"
        closed = [tag for tag in tags if job.part_of(tag).hole_form is HoleForm.SLOT]
        if closed:
            yield (
                "No screw head passes a closed slot. Hold in place, then put the screws in: "
                f"{', '.join(closed)}"
            )


def fit_cautions(bench: Bench, tags: Sequence[str]) -> Iterator[str]:
    """Yield what can hurt while things are put in place."""
    for tag in tags:
        if tag in bench.layout.devices:
            mass = bench.job.part_of(tag).mass
            if mass is not None and mass >= tool("two persons from") / 2:
                who = (
                    "two persons" if mass >= tool("two persons from") else "both hands, plate flat"
                )
                yield f"{tag} weighs {mass_words(mass, bench.job.settings.units)}: {who}."


def start_words(bench: Bench, tags: Sequence[str]) -> Iterator[str]:
    """Yield which screws are turned in before a device is hung on them."""
    for tag in tags:
        form = bench.job.part_of(tag).hole_form
        hole = "keyholes" if form is HoleForm.KEYHOLE else "slots open at its edge"
        yield f"{tag} has {hole}: turn {', '.join(bench.screws[tag])} in by 2 to 3 turns"


def tighten_words(bench: Bench, tags: Sequence[str]) -> Iterator[str]:
    """Yield the torques, one line for all screws that are tightened alike."""
    alike: dict[str, list[str]] = {}
    for tag in tags:
        for screw in bench.screws[tag]:
            hole = bench.layout.holes[screw]
            found = tightening(bench.job, bench.layout, hole)
            if hole.kind is HoleKind.RIVET:
                words = f"rivet {hole.size}: set it, and see that it sits tight"
            elif found.torque is None:
                words = f"{hole.size}: torque not stated, an open item: ask the device's maker"
            else:
                words = f"{hole.size}: {torque_text(found.torque)}"
                if found.reason:
                    words += f" ({found.reason})"
                if hole.kind is HoleKind.CLEARANCE:
                    words += ", nut held behind the plate"
            alike.setdefault(words, []).append(screw)
    for words, screws in alike.items():
        yield f"{words}: {', '.join(screws)}"
    yield "Draw a line of paint over each screw and what it holds; sign the torque sheet."


def hinge_wires(bench: Bench) -> int:
    """Return how many wires go from the plate to the door."""
    job = bench.job
    return sum(
        len({job.is_in_door(end.device) for end in (wire.start, wire.end)}) == 2
        for wire in job.wires
    )


def door_wire_words(bench: Bench) -> Iterator[str]:
    """Yield how wires are led to the door."""
    if count := hinge_wires(bench):
        yield (
            f"Lead {count} wire{'' if count == 1 else 's'} past the hinge in a bundle held on both "
            "sides, slack enough for the door wide open; then connect them."
        )


def set_in_words(bench: Bench) -> Iterator[str]:
    """Yield how the wired plate comes into its enclosure."""
    count = len(bench.job.settings.plate.fixing_holes)
    where = f"its {count} fixing holes" if count else "its fixing holes"
    yield "Hold it by its edges or by lifting eyes, never by a device, a duct or the wires."
    yield (
        f"On the enclosure's studs through {where}; nuts and torque by the enclosure's "
        "instructions (not in the job). Mark each."
    )
    yield "Bond plate, enclosure and door on bare metal; measure each bond, and write it down."


def wire_words(bench: Bench) -> Iterator[str]:
    """Yield how the panel is wired."""
    count = len(bench.job.wires)
    yield f"{count} wires by the wire list: markers on both ends before they are connected."
    yield "Protective conductors first, then the thickest, then control, signals last."
    if hinge_wires(bench):
        yield "Wires to the door: their ends at the door wait until the plate is in."
    yield "Each terminal tightened once, at once, and marked: torques on the torque sheet."
    yield "Pull at every wire."
