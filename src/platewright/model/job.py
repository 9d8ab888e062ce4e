"""What the user wrote in ``job.toml``, and the whole job with its lists."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from annotated_types import Ge, Gt, Le

from platewright.foundation.units import (
    AirFlow,
    DegC,
    Metre,
    Mm,
    Mm2,
    Ratio,
    Volt,
    Watt,
    WattPerK,
    WattPerM2,
)
from platewright.model.device import Device, Place
from platewright.model.geometry import Box, Point
from platewright.model.offcut import Offcut
from platewright.model.part import Part
from platewright.model.part_row import PartRow
from platewright.model.wire import Wire


class Practice(StrEnum):
    """Which body of rules the shop builds to."""

    NORTH_AMERICA = "north-america"
    IEC = "iec"


class DisplayUnit(StrEnum):
    """Unit that sheets print lengths in."""

    MM = "mm"
    INCH = "in"


class Side(StrEnum):
    """Left or right, seen from the front."""

    LEFT = "left"
    RIGHT = "right"


class TemplatePaper(StrEnum):
    """Paper that the drill template is printed on."""

    A4 = "A4"
    A3 = "A3"
    LETTER = "Letter"
    TABLOID = "Tabloid"


class CableEntry(StrEnum):
    """Side of the enclosure that the field's cables come in by."""

    BOTTOM = "bottom"
    TOP = "top"
    LEFT = "left"
    RIGHT = "right"


class DuctPattern(StrEnum):
    """Where upright ducts stand."""

    BOTH_SIDES = "both-sides"
    LEFT = "left"
    RIGHT = "right"
    NONE = "none"


class MiddleDuct(StrEnum):
    """Whether an upright duct may stand in the middle of the plate."""

    WHERE_IT_PAYS = "where-it-pays"
    ALWAYS = "always"
    NEVER = "never"


class Hold(StrEnum):
    """How ducts are held."""

    SCREW = "screw"
    RIVET = "rivet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Title:
    """Title block of every sheet (fields after ISO 7200)."""

    title: Annotated[str, "Name of the job"]
    number: Annotated[str, "Drawing or job number"] = ""
    revision: Annotated[str, "Revision letter or number"] = ""
    owner: Annotated[str, "Who builds it: the shop"] = ""
    drawn_by: Annotated[str, "Who made the plan"] = ""
    checked_by: Annotated[str, "Who checked it"] = ""
    date: Annotated[str, "Date printed on the sheets, as YYYY-MM-DD"] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Enclosure:
    """The cabinet round the plate."""

    width: Annotated[Mm, Gt(0), "Outside width"]
    height: Annotated[Mm, Gt(0), "Outside height"]
    depth: Annotated[Mm, Gt(0), "Outside depth"]
    door_inside: Annotated[Mm, Gt(0), "From the plate face to the inner face of the closed door"]
    hinge: Annotated[Side, "Side of the door hinge"] = Side.LEFT
    hinge_x: Annotated[
        Mm | None, "Hinge axis in plate coordinates; blank: half the enclosure's overhang"
    ] = None
    cable_entry: Annotated[
        CableEntry | None,
        "Side where the field's cables come in: bottom, top, left or right; blank: not stated",
    ] = None
    material: Annotated[str, "Wall material"] = "painted steel"
    placement: Annotated[str, "wall, free, row end, row or sunk"] = "wall"
    sun: Annotated[
        Ratio | None, Ge(0), Le(1), "Share of sunlight the outside takes up; blank: by material"
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """Air, sun and what moves heat out of the enclosure."""

    outside: Annotated[DegC | None, "Warmest air round the enclosure; blank: 35 assumed"] = None
    inside: Annotated[DegC | None, "Warmest air wanted inside; blank: 40 assumed"] = None
    coldest: Annotated[DegC | None, "Coldest air round the enclosure; blank: not looked at"] = None
    humidity: Annotated[Ratio | None, Ge(0), Le(1), "Relative humidity outside at its warmest"] = (
        None
    )
    altitude: Annotated[Metre, Ge(0), Le(5000), "Height above sea level"] = 0.0
    sun: Annotated[WattPerM2, Ge(0), Le(1400), "Sunlight on front and top; 0: indoors"] = 0.0
    fan: Annotated[AirFlow, Ge(0), "Flow of the filter fan, blowing freely; 0: none"] = 0.0
    fan_filter: Annotated[bool, "Whether the fan blows through filters"] = True
    vents: Annotated[Mm2, Ge(0), "Free area of the low vents, the same again high up"] = 0.0
    exchanger: Annotated[WattPerK, Ge(0), "Air-to-air exchanger, heat per kelvin; 0: none"] = 0.0
    cooling: Annotated[Watt, Ge(0), "Useful power of a cooling unit; 0: none"] = 0.0
    standby: Annotated[Watt, Ge(0), "Heat still given off when the machine stands"] = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FixingHole:
    """A hole by which the plate itself is fixed in the enclosure."""

    x: Annotated[Mm, "Centre from the left edge"]
    y: Annotated[Mm, "Centre from the lower edge"]
    keep_out: Annotated[Mm, Gt(0), "Diameter kept free for nut, washer and socket"] = 30.0

    @property
    def centre(self) -> Point:
        """Centre of the hole."""
        return Point(self.x, self.y)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepOut:
    """A region of the plate that must stay free of everything."""

    x: Annotated[Mm, "Left edge"]
    y: Annotated[Mm, "Lower edge"]
    width: Annotated[Mm, Gt(0), "Width"]
    height: Annotated[Mm, Gt(0), "Height"]
    reason: Annotated[str, "Why it is kept free"] = ""

    @property
    def box(self) -> Box:
        """The region."""
        return Box(self.x, self.y, self.x + self.width, self.y + self.height)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """The mounting plate."""

    width: Annotated[Mm, Gt(0), "Width"]
    height: Annotated[Mm, Gt(0), "Height"]
    thickness: Annotated[Mm, Gt(0), "Thickness of the sheet"]
    material: Annotated[str, "steel, stainless or aluminium"] = "steel"
    edge_margin: Annotated[Mm, Ge(0), "Kept free along the plate's edges"] = 10.0
    fixing_holes: Annotated[tuple[FixingHole, ...], "The plate's own fixing holes"] = ()
    keep_outs: Annotated[tuple[KeepOut, ...], "Regions to keep free"] = ()

    @property
    def box(self) -> Box:
        """The whole plate."""
        return Box(0.0, 0.0, self.width, self.height)


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """A voltage group: circuits kept together and apart from others."""

    name: Annotated[str, "Short name used in the lists, e.g. M"]
    title: Annotated[str, "In words, e.g. mains 480 V"] = ""
    voltage: Annotated[Volt | None, Ge(0), "Highest voltage in the group"] = None
    protective: Annotated[bool, "Protective earth: it may stand and end beside any group"] = False
    spare: Annotated[
        Ratio, Ge(0), Le(0.9), "Share of the width of the group's rows kept for its later devices"
    ] = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class DuctStock:
    """A wire duct the shop keeps. Blank inside area: worked out from usual walls, an assumption."""

    name: Annotated[str, "What the shop calls it, e.g. 40x60"]
    width: Annotated[Mm, Gt(0), "Outside width of the base"]
    height: Annotated[Mm, Gt(0), "Height without cover"]
    length: Annotated[Mm, Gt(0), "Length of a bar"] = 2000.0
    cover_height: Annotated[Mm, Ge(0), "What the cover adds in height"] = 5.0
    inside_area: Annotated[Mm2 | None, Gt(0), "Inside cross-section with the cover on"] = None
    slot_pitch: Annotated[
        Mm | None, Ge(5), "Pitch of the slots in the base; blank: the base is drilled through"
    ] = None
    slot_length: Annotated[Mm | None, Gt(0), "Length of a slot along the duct"] = None
    slot_width: Annotated[Mm | None, Gt(0), "Width of a slot"] = None
    slot_lines: Annotated[
        Mm | None, Gt(0), "Distance of two lines of slots; blank: one line along the middle"
    ] = None
    first_slot: Annotated[
        Mm | None,
        Gt(0),
        "Centre of the first slot from the end of a bar, and of each piece; blank: half a pitch",
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RailStock:
    """A mounting rail the shop keeps."""

    profile: Annotated[str, "Rail profile, e.g. TH35-7.5"] = "TH35-7.5"
    length: Annotated[Mm, Gt(0), "Length of a bar"] = 2000.0
    slot_pitch: Annotated[Mm, Ge(5), "Pitch of the slots along the rail"] = 25.0
    slot_length: Annotated[Mm, Gt(0), "Length of a slot along the rail"] = 15.0
    slot_width: Annotated[Mm | None, Gt(0), "Width of a slot; blank: the usual one"] = None
    first_slot: Annotated[
        Mm | None,
        Gt(0),
        "Centre of the first slot from the end of a bar, and of each piece; blank: half a pitch",
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """What lies in the rack, and how it is cut and screwed."""

    ducts: Annotated[tuple[DuctStock, ...], "Duct sizes in stock"]
    rail: Annotated[RailStock, "Rail in stock"] = field(default_factory=RailStock)
    kerf: Annotated[Mm, Ge(0), "Width of the saw cut; 0 for a shear"] = 3.0
    end_trim: Annotated[Mm, Ge(0), "Cut off the end of each new bar"] = 0.0
    duct_screw: Annotated[str, "Thread that holds ducts; blank: M5, or 10-32 by practice"] = ""
    rail_screw: Annotated[str, "Thread that holds rails; blank: M5, or 10-32 by practice"] = ""
    duct_hold: Annotated[Hold, "How ducts are held: screw or rivet"] = Hold.SCREW
    duct_rivet: Annotated[
        str, "Blind rivet that holds ducts, e.g. 4.8; blank: 4.8, or 3/16 by practice"
    ] = ""
    offcuts: Annotated[
        str, "List of off-cuts in store, as a path from the job folder; blank: offcuts.csv there"
    ] = ""
    keep_offcut: Annotated[Mm, Gt(0), "Shortest off-cut worth keeping"] = 300.0
    cover_gap: Annotated[Mm, Ge(0), "How much shorter a cover is cut for each joint"] = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """How the plate is worked on."""

    paper: Annotated[
        TemplatePaper | None,
        "Paper of the drill template: A4, A3, Letter or Tabloid; blank: Tabloid or A3 by practice",
    ] = None
    reach: Annotated[
        Mm | None, Gt(0), "How far one works from the plate's edge; blank: 600 assumed"
    ] = None
    printer_scale_x: Annotated[
        float,
        Ge(0.9),
        Le(1.1),
        "What the printer makes of a length across: 0.998 where the template's ruler of 100 mm "
        "measures 99.8; the next print allows for it",
    ] = 1.0
    printer_scale_y: Annotated[
        float, Ge(0.9), Le(1.1), "The same for lengths up the paper, as it is printed"
    ] = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Limits this job sets itself; blank: the rule's own limit and source stand."""

    duct_fill: Annotated[Ratio | None, Gt(0), Le(1), "Fullest a duct may be"] = None
    duct_fill_plan: Annotated[Ratio, Gt(0), Le(1), "Fill the plan chooses duct sizes for"] = 0.40
    spare: Annotated[Ratio, Ge(0), Le(0.9), "Share of each row's width kept for later"] = 0.0
    group_gap: Annotated[Mm, Ge(0), "Gap between two voltage groups in one row"] = 10.0
    door_gap: Annotated[Mm, Ge(0), "Air kept between a device and the door or what hangs on it"] = (
        0.0
    )
    side_gap: Annotated[Mm, Ge(0), "Gap between a device and an upright duct"] = 5.0
    fixing_end: Annotated[
        Mm | None, Gt(0), "Farthest first fixing from the end of a rail or duct"
    ] = None
    fixing_span: Annotated[
        Mm | None, Gt(0), "Farthest two fixings of a rail or duct may be apart"
    ] = None
    fixing_sag: Annotated[
        Mm | None, Gt(0), "Farthest a rail or duct may bend between two fixings"
    ] = None
    duct_temperature: Annotated[DegC | None, "Warmest a duct's wall may get; blank: PVC"] = None
    hole_edge: Annotated[Mm | None, Gt(0), "Nearest a hole centre may come to the plate's edge"] = (
        None
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Aims:
    """What a good plate is worth: weights of the aims, in metres of wire."""

    wire: Annotated[float, Ge(0), "Worth of one metre of wire"] = 1.0
    height: Annotated[float, Ge(0), "Worth of one metre of plate height used"] = 20.0
    heavy_low: Annotated[float, Ge(0), "Worth of one kg lowered by one metre"] = 0.2
    hot_high: Annotated[float, Ge(0), "Worth of one W raised by one metre"] = 0.01
    wish: Annotated[float, Ge(0), "Worth of one wish obeyed"] = 10.0
    zone: Annotated[float, Ge(0), "Worth of one voltage group that does not start again"] = 20.0
    entry: Annotated[
        float, Ge(0), "Worth of one metre nearer to the cable entry, for each field conductor"
    ] = 0.5
    cut_length: Annotated[float, Ge(0), "Worth of one different length of rail fewer"] = 0.05
    cool: Annotated[float, Ge(0), "Worth of one kelvin off the warmest housing, estimated"] = 0.0
    rail_piece: Annotated[float, Ge(0), "Worth of one rail piece fewer"] = 0.2
    duct: Annotated[float, Ge(0), "Worth of one metre of duct saved"] = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnMap:
    """Which heading of a foreign list was read as which column; kept by import."""

    devices: Annotated[Mapping[str, str], "Column of devices/parts -> heading in the list"] = field(
        default_factory=dict
    )
    wires: Annotated[Mapping[str, str], "Column of wires.csv -> heading in the list"] = field(
        default_factory=dict
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class JobSettings:
    """The whole of ``job.toml``."""

    format: Annotated[int, "Format of the job folder"] = 1
    job: Annotated[Title, "Title block"]
    units: Annotated[DisplayUnit, "Unit the sheets print: mm or in"] = DisplayUnit.MM
    practice: Annotated[Practice, "north-america or iec"] = Practice.IEC
    enclosure: Annotated[Enclosure, "The cabinet"]
    air: Annotated[Air, "Air, sun and ventilation"] = field(default_factory=Air)
    plate: Annotated[Plate, "The mounting plate"]
    groups: Annotated[tuple[Group, ...], "Voltage groups, from supply to load"] = ()
    pattern: Annotated[DuctPattern, "Where upright ducts stand"] = DuctPattern.BOTH_SIDES
    middle_duct: Annotated[
        MiddleDuct, "Upright duct in the middle: where-it-pays, always, never"
    ] = MiddleDuct.WHERE_IT_PAYS
    shop_parts: Annotated[str, "The shop's own parts list, as a path from the job folder"] = ""
    shop_enclosures: Annotated[
        str, "The shop's list of enclosures, as a path from the job folder"
    ] = ""
    stock: Annotated[Stock, "Rails and ducts in the rack"]
    limits: Annotated[Limits, "Limits of this job"] = field(default_factory=Limits)
    bench: Annotated[Bench, "How the plate is worked on"] = field(default_factory=Bench)
    preset: Annotated[str, "Named weights of the aims; keys of aims stand above it"] = ""
    aims: Annotated[Aims, "Weights of the plan's aims"] = field(default_factory=Aims)
    columns: Annotated[ColumnMap, "Headings met by import"] = field(default_factory=ColumnMap)

    @property
    def row_spare(self) -> Ratio:
        """Share of every row's width that a plan keeps free: the most any group or the job asks."""
        return max([self.limits.spare, *(group.spare for group in self.groups)])

    @property
    def protective_groups(self) -> frozenset[str]:
        """Names of the groups that may stand and end beside any other."""
        return frozenset(group.name for group in self.groups if group.protective)

    @property
    def hinge_line(self) -> Mm:
        """Where the door's hinge axis lies, in plate coordinates."""
        if self.enclosure.hinge_x is not None:
            return self.enclosure.hinge_x
        overhang = (self.enclosure.width - self.plate.width) / 2
        left = self.enclosure.hinge is Side.LEFT
        return -overhang if left else self.plate.width + overhang


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A job as read from its folder, every reference resolved."""

    settings: JobSettings
    parts: Mapping[str, Part]
    devices: Mapping[str, Device]
    wires: tuple[Wire, ...]
    offcuts: tuple[Offcut, ...] = ()  # in store, in list order
    offcut_rows: tuple[int, ...] = field(default=(), compare=False, repr=False)  # of their list
    # by part: where its data were read; messages name it, nothing is reckoned from it
    part_rows: Mapping[str, PartRow] = field(default_factory=dict, compare=False, repr=False)

    def part_of(self, tag: str) -> Part:
        """Return the part of a device."""
        return self.parts[self.devices[tag].part]

    @property
    def field_conductors(self) -> Mapping[str, int]:
        """Return how many conductors from the field end at each terminal device on the plate.

        Counted: the points that no wire of the list ends at, of parts whose kind says terminal.
        """
        used = {(e.device, e.terminal) for wire in self.wires for e in (wire.start, wire.end)}
        found = {}
        for device in self.on_plate:
            part = self.parts[device.part]
            if "terminal" in part.kind.lower():
                free = sum((device.tag, name) not in used for name in part.terminals)
                found[device.tag] = min(free, (len(part.terminals) + 1) // 2)
        return found

    @property
    def on_plate(self) -> tuple[Device, ...]:
        """Devices that go on the plate, in list order."""
        return tuple(d for d in self.devices.values() if d.place is Place.PLATE)

    @property
    def on_door(self) -> tuple[Device, ...]:
        """Devices that go on the door, in list order."""
        return tuple(d for d in self.devices.values() if d.place is Place.DOOR)

    @property
    def placed_on_door(self) -> tuple[Device, ...]:
        """Devices on the door whose place is stated, in list order."""
        return tuple(d for d in self.on_door if d.door_x is not None and d.door_y is not None)

    def is_open_on_door(self, tag: str) -> bool:
        """Tell whether a device hangs in the door at a place that is not stated yet."""
        return self.is_in_door(tag) and tag not in {d.tag for d in self.placed_on_door}

    def is_in_door(self, tag: str) -> bool:
        """Tell whether a device of this designation hangs in the door."""
        device = self.devices.get(tag)
        return device is not None and device.place is Place.DOOR
