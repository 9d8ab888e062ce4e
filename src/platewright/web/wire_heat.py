"""How warm everything gets, as it goes over the wire to the page: the heat part of wire_format.

Temperatures in °C; a field's values in tenths of a degree, row by row from below.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from platewright.drawing.temperature_colours import band_colours
from platewright.foundation.tag_order import tag_order
from platewright.model.heat import Banded, Field, Level, PanelHeat
from platewright.model.panel import Panel
from platewright.sheets.heat_field import Scale
from platewright.sheets.heat_picture import air_scale, surface_scale
from platewright.web.wire_format import Json, box_list

TENTHS: Final = 10
FINE: Final = 5  # decimals of single temperatures: the page rounds once, as the sheets do


def heat_record(panel: Panel, heat: PanelHeat) -> Json:
    """Return all that the page shows of heat, exact as checked."""
    return {
        "rows": [_row(panel, heat, tag) for tag in sorted(panel.job.devices, key=tag_order)],
        "sum": heat.losses.total,
        "parts": heat.losses.parts,
        "unknown": len(heat.losses.unknown),
        "level": _level(heat.level),
        "assumed": list(heat.assumed),
        "cautions": list(heat.cautions),
        "colours": list(band_colours()),
        "scales": {
            "air": _scale(air_scale(heat)),
            "surfaces": _scale(surface_scale(heat)),
        },
        **live_record(heat, "air"),
        **live_record(heat, "surfaces"),
    }


def live_record(heat: PanelHeat, view: str) -> Json:
    """Return what follows a hand: every device, every duct, and the fields of one view."""
    fields = (
        {"front": _field(heat.front), "side": _field(heat.side)}
        if view == "air"
        else {"plate": _field(heat.plate)}
    )
    return {
        "devices": {
            tag: [*_banded(one.air), *_banded(one.surface)] for tag, one in heat.devices.items()
        },
        "ducts": {
            tag: [*_banded(one.temperature), one.limit, one.tag] for tag, one in heat.ducts.items()
        },
        **fields,
    }


def _row(panel: Panel, heat: PanelHeat, tag: str) -> Json:
    part, one = panel.job.part_of(tag), heat.devices.get(tag)
    unknown = tag in heat.losses.unknown
    limit = one.limit if one else part.heat_limit
    return {
        "tag": tag,
        "what": part.description,
        "heat": None if unknown or part.heat is None else part.heat * panel.job.devices[tag].load,
        "limit": None if limit is None else round(limit, 1),
    }


def _level(level: Level) -> Json:
    law = level.by_power_law
    return {
        "inside": _banded(level.inside),
        "wanted": level.wanted,
        "outside": level.outside,
        "by_walls": round(level.by_walls, 1),
        "by_power_law": None if law is None else round(law, 1),
        "no_power_law": level.no_power_law,
    }


def _scale(scale: Scale) -> Json:
    return {"low": scale.low, "step": scale.step}


def _banded(value: Banded) -> list[float]:
    return [round(value.value, FINE), round(value.band, FINE)]


def _field(field: Field) -> Json:
    values = np.rint(field.values * TENTHS).astype(np.int32)
    return {
        "box": box_list(field.area),
        "columns": int(values.shape[1]),
        "values": values.ravel().tolist(),
    }
