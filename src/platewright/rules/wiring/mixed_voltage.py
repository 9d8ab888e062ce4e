"""Wires of different voltages in one duct need insulation for the highest of them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Volt
from platewright.model.finding import Reading
from platewright.model.job import Practice
from platewright.model.panel import Panel
from platewright.model.wire import Wire
from platewright.rules.judge import Limit, at_least, holds, undecided
from platewright.rules.registry import rule
from platewright.tables.wires import rating_row
from platewright.wiring.outer_diameter import outer_diameter_row

AMERICA: Final = Source("NEC", "300.3(C)(1)", Standing.MEMORY)
IEC: Final = Source("IEC 60204-1", "13.1.3", Standing.MEMORY)


@rule(
    id="wiring.mixed-voltage",
    title="Insulation is for the highest voltage in the duct",
    why="Circuits of different voltages may share a duct where every wire in it is insulated for "
    "the highest of them; else they need a duct of their own or a barrier. Signals that must not "
    "be disturbed, circuits live with the main switch off and limited-energy circuits need more "
    "than that, which is not looked at here.",
    source=IEC,
)
def check_mixed_voltage(panel: Panel) -> Iterator[Reading]:
    """Compare each duct's least insulation with the highest voltage of the groups in it."""
    groups = [group for group in panel.job.settings.groups if not group.protective]
    volts = {group.name: group.voltage for group in groups}
    mixed = 0
    for tag, wires in sorted(_by_duct(panel).items()):
        here = {name: volts[name] for name in volts if any(w.group == name for w in wires)}
        if len(here) > 1:
            mixed += 1
            yield from _judge(panel, tag, wires, here)
    if volts and panel.routes.wires and not mixed:
        yield holds("", message="no duct holds wires of more than one voltage group")


def _by_duct(panel: Panel) -> Mapping[str, list[Wire]]:
    found: defaultdict[str, list[Wire]] = defaultdict(list)
    for wire in panel.job.wires:
        route = panel.routes.wires.get(wire.number)
        for tag in route.ducts if route else ():
            found[tag].append(wire)
    return found


def _judge(
    panel: Panel, tag: str, wires: list[Wire], volts: Mapping[str, Volt | None]
) -> Iterator[Reading]:
    duct = panel.layout.ducts.get(tag)
    place = None if duct is None else duct.box
    is_american = panel.job.settings.practice is Practice.NORTH_AMERICA
    source = AMERICA if is_american else IEC
    silent = [name for name, voltage in volts.items() if voltage is None]
    rated = [_rating(wire, panel.job.settings.practice) for wire in wires]
    unknown = sorted({one.type for one in rated if one.volts is None})
    if silent or unknown:
        what = [f"the voltage of group {', '.join(silent)}"] if silent else []
        what += [f"the rated voltage of wire type {', '.join(unknown)}"] if unknown else []
        yield undecided(
            tag,
            missing=f"duct {tag} holds wires of groups {', '.join(volts)}; not known: "
            + " and ".join(what),
            cure="State voltage_v of the group in job.toml"
            if silent
            else "Name types in wires.csv whose rating the tables have, or read it off the reel",
            place=place,
            source=source,
        )
        return
    least = min(rated, key=lambda one: (one.volts or 0.0, not one.is_assumed, one.type))
    told = " (type assumed, none is stated)" if least.is_assumed else ""
    yield at_least(
        tag,
        what=f"duct {tag} holds wires of groups {', '.join(volts)}: least insulation, of "
        f"{least.type}{told}",
        measured=least.volts or 0.0,
        limit=Limit(
            value=max(voltage or 0.0 for voltage in volts.values()),
            source=source,
            unit="V",
        ),
        cure=f"Take wire insulated for the highest voltage, lead {least.type} another way, or part "
        "the duct by a barrier",
        place=place,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rated:
    type: str
    volts: Volt | None
    is_assumed: bool


def _rating(wire: Wire, practice: Practice) -> _Rated:
    """Return the rating of a wire; where its list names no type, of the type usually pulled."""
    row = outer_diameter_row(wire, practice)
    name = wire.type.strip() or (row.type if row else "not stated")
    rating = rating_row(name)
    return _Rated(
        type=name,
        volts=None if rating is None else rating.voltage,
        is_assumed=not wire.type.strip(),
    )
