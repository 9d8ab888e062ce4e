"""What the bars in the rack are called on the cut list, and how long they are."""

from __future__ import annotations

from platewright.foundation.units import Mm
from platewright.model.job import DuctStock, Stock
from platewright.model.layout import Duct, Rail


def rail_stock(profile: str) -> str:
    """Return the name of a rail bar."""
    return f"rail {profile}"


def duct_stock(name: str) -> str:
    """Return the name of a duct's base bar."""
    return f"duct {name}"


def cover_stock(name: str) -> str:
    """Return the name of a duct's cover bar."""
    return f"cover {name}"


def stock_of(duct: Duct, stock: Stock) -> DuctStock | None:
    """Return the stock a duct is cut from: by its name, else by its size; ``None``: not kept."""
    for kept in stock.ducts:
        is_size = (kept.width, kept.height) == (duct.width, duct.height)
        if kept.name == duct.stock or (not duct.stock and is_size):
            return kept
    return None


def duct_name(duct: Duct, stock: Stock) -> str:
    """Return the shop's name of a duct: as stated, else by its size, else its size in words."""
    if duct.stock:
        return duct.stock
    kept = stock_of(duct, stock)
    return f"{duct.width:g}x{duct.height:g}" if kept is None else kept.name


def bar_of(piece: Rail | Duct, stock: Stock) -> Mm | None:
    """Return the length of the bar that a rail or duct is cut from; ``None``: none is kept."""
    if isinstance(piece, Rail):
        return stock.rail.length if piece.profile == stock.rail.profile else None
    kept = stock_of(piece, stock)
    return None if kept is None else kept.length


def bar_lengths(stock: Stock) -> dict[str, Mm]:
    """Return the length of a whole bar by its name."""
    lengths = {rail_stock(stock.rail.profile): stock.rail.length}
    for duct in stock.ducts:
        lengths[duct_stock(duct.name)] = duct.length
        lengths[cover_stock(duct.name)] = duct.length
    return lengths
