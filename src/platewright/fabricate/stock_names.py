"""What the bars in the rack are called on the cut list, and how long they are."""

from __future__ import annotations

from platewright.foundation.units import Mm
from platewright.model.job import Stock
from platewright.model.layout import Duct


def rail_stock(profile: str) -> str:
    """Return the name of a rail bar."""
    return f"rail {profile}"


def duct_stock(name: str) -> str:
    """Return the name of a duct's base bar."""
    return f"duct {name}"


def cover_stock(name: str) -> str:
    """Return the name of a duct's cover bar."""
    return f"cover {name}"


def duct_name(duct: Duct, stock: Stock) -> str:
    """Return the shop's name of a duct: as stated, else by its size, else its size in words."""
    if duct.stock:
        return duct.stock
    for kept in stock.ducts:
        if (kept.width, kept.height) == (duct.width, duct.height):
            return kept.name
    return f"{duct.width:g}x{duct.height:g}"


def bar_lengths(stock: Stock) -> dict[str, Mm]:
    """Return the length of a whole bar by its name."""
    lengths = {rail_stock(stock.rail.profile): stock.rail.length}
    for duct in stock.ducts:
        lengths[duct_stock(duct.name)] = duct.length
        lengths[cover_stock(duct.name)] = duct.length
    return lengths
