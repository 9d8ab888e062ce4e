"""The only list of units: one alias per quantity, the axes, the conversions.

Axes: the plate is seen from the front, origin at its lower left corner, x right, y up,
z out of the plate. Angles count counter-clockwise. Every output that points y down flips
in exactly one named function of its writer.

Inside the program every length is in mm, every heat in W and so on (the first name of each
alias below). Other units exist only at the file edge: ``ALIASES`` says which suffix or unit
word is read and by which factor.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final, TypeAlias


@dataclass(frozen=True, slots=True)
class Unit:
    """The unit of a number: what is printed, and the column suffix that names it."""

    symbol: str
    suffix: str


Mm: TypeAlias = Annotated[float, Unit("mm", "mm")]
Mm2: TypeAlias = Annotated[float, Unit("mm²", "mm2")]
M2: TypeAlias = Annotated[float, Unit("m²", "m2")]
Metre: TypeAlias = Annotated[float, Unit("m", "m")]
Kg: TypeAlias = Annotated[float, Unit("kg", "kg")]
DegC: TypeAlias = Annotated[float, Unit("°C", "degc")]
Kelvin: TypeAlias = Annotated[float, Unit("K", "k")]
Watt: TypeAlias = Annotated[float, Unit("W", "w")]
Ampere: TypeAlias = Annotated[float, Unit("A", "a")]
Volt: TypeAlias = Annotated[float, Unit("V", "v")]
OhmPerKm: TypeAlias = Annotated[float, Unit("Ω/km", "ohm_per_km")]
Newton: TypeAlias = Annotated[float, Unit("N", "n")]
NPerMm: TypeAlias = Annotated[float, Unit("N/mm", "n_per_mm")]
NPerMm2: TypeAlias = Annotated[float, Unit("N/mm²", "n_per_mm2")]
KgPerM3: TypeAlias = Annotated[float, Unit("kg/m³", "kg_per_m3")]
Mm4: TypeAlias = Annotated[float, Unit("mm⁴", "mm4")]
Nm: TypeAlias = Annotated[float, Unit("N·m", "nm")]
Rpm: TypeAlias = Annotated[float, Unit("1/min", "rpm")]
Ratio: TypeAlias = Annotated[float, Unit("", "share")]
Turns: TypeAlias = Annotated[float, Unit("threads", "threads")]
MetrePerMin: TypeAlias = Annotated[float, Unit("m/min", "m_per_min")]
AirFlow: TypeAlias = Annotated[float, Unit("m³/h", "m3_per_h")]
WattPerK: TypeAlias = Annotated[float, Unit("W/K", "w_per_k")]
WattPerM2: TypeAlias = Annotated[float, Unit("W/m²", "w_per_m2")]
WattPerM2K: TypeAlias = Annotated[float, Unit("W/(m²·K)", "w_per_m2k")]
WattPerMK: TypeAlias = Annotated[float, Unit("W/(m·K)", "w_per_mk")]
PerKelvin: TypeAlias = Annotated[float, Unit("1/K", "per_k")]
Pascal: TypeAlias = Annotated[float, Unit("Pa", "pa")]

MM_PER_INCH: Final = 25.4
MM_PER_M: Final = 1000.0
MM2_PER_M2: Final = MM_PER_M**2
KELVIN_AT_0_DEGC: Final = 273.15
SECONDS_PER_HOUR: Final = 3600.0
M_PER_KM: Final = 1000.0
NM_PER_LB_IN: Final = 0.112985
KG_PER_LB: Final = 0.45359237
STANDARD_GRAVITY: Final = 9.80665  # N/kg, exact by definition (3rd CGPM, 1901)
UM_PER_MM: Final = 1000  # integer solvers count micrometres
TENTHS_PER_MM: Final = 10  # the cutting solver counts tenths of a millimetre


@dataclass(frozen=True, slots=True)
class Alias:
    """A unit read at the file edge: ``inside = outside * factor + offset``."""

    factor: float
    offset: float = 0.0


# suffix of the inside unit -> words read at the edge (column suffix or behind a number)
ALIASES: Final[dict[str, dict[str, Alias]]] = {
    "mm": {
        "mm": Alias(1.0),
        "cm": Alias(10.0),
        "m": Alias(MM_PER_M),
        "in": Alias(MM_PER_INCH),
        "inch": Alias(MM_PER_INCH),
        '"': Alias(MM_PER_INCH),
        "ft": Alias(12 * MM_PER_INCH),
    },
    "kg": {"kg": Alias(1.0), "g": Alias(0.001), "lb": Alias(KG_PER_LB), "lbs": Alias(KG_PER_LB)},
    "w": {"w": Alias(1.0), "kw": Alias(1000.0), "mw": Alias(0.001)},
    "nm": {
        "nm": Alias(1.0),
        "n·m": Alias(1.0),
        "lbin": Alias(NM_PER_LB_IN),
        "lb-in": Alias(NM_PER_LB_IN),
        "lb·in": Alias(NM_PER_LB_IN),
        "lbft": Alias(12 * NM_PER_LB_IN),
        "lb-ft": Alias(12 * NM_PER_LB_IN),
    },
    "degc": {
        "degc": Alias(1.0),
        "°c": Alias(1.0),
        "c": Alias(1.0),
        "degf": Alias(5 / 9, -32 * 5 / 9),
        "°f": Alias(5 / 9, -32 * 5 / 9),
    },
    "v": {"v": Alias(1.0), "kv": Alias(1000.0), "mv": Alias(0.001)},
    "a": {"a": Alias(1.0), "ma": Alias(0.001)},
    "share": {"share": Alias(1.0), "%": Alias(0.01), "percent": Alias(0.01)},
    "mm2": {"mm2": Alias(1.0), "mm²": Alias(1.0), "in2": Alias(MM_PER_INCH**2)},
    "k": {"k": Alias(1.0)},
    "n": {"n": Alias(1.0)},
    "m3_per_h": {
        "m3_per_h": Alias(1.0),
        "m³/h": Alias(1.0),
        "m3/h": Alias(1.0),
        "cfm": Alias((12 * MM_PER_INCH / MM_PER_M) ** 3 * 60),
    },
    "w_per_k": {"w_per_k": Alias(1.0), "w/k": Alias(1.0)},
    "w_per_m2": {"w_per_m2": Alias(1.0), "w/m²": Alias(1.0), "w/m2": Alias(1.0)},
    "per_k": {"per_k": Alias(1.0), "1/k": Alias(1.0)},
    "m": {"m": Alias(1.0), "mm": Alias(0.001), "ft": Alias(12 * MM_PER_INCH / MM_PER_M)},
}
