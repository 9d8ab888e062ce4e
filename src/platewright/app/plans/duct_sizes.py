"""Choose duct sizes from the stock by what the ducts must carry."""

from __future__ import annotations

from collections.abc import Mapping

from platewright.arrange.task import DuctSizes
from platewright.foundation.units import Mm, Mm2, Ratio
from platewright.model.job import DuctStock, Stock
from platewright.model.layout import Layout, Run
from platewright.model.routes import Routes
from platewright.wiring.duct_inside import duct_inside


def inside(stock: DuctStock) -> Mm2:
    """Return the inside cross-section of a stock duct, stated or worked out."""
    return duct_inside(width=stock.width, height=stock.height, stated=stock.inside_area)[0]


def of_one_height(stock: Stock) -> dict[Mm, tuple[DuctStock, ...]]:
    """Return the stock by height, narrow to wide: ducts of one plate have one height."""
    heights: dict[Mm, list[DuctStock]] = {}
    for duct in stock.ducts:
        heights.setdefault(duct.height, []).append(duct)
    return {
        h: tuple(sorted(ducts, key=lambda d: (d.width, d.name)))
        for h, ducts in sorted(heights.items())
    }


def smallest(ducts: tuple[DuctStock, ...], area: Mm2, fill: Ratio) -> DuctStock:
    """Return the narrowest duct that takes this wire area at this fill; else the widest."""
    for duct in ducts:
        if area <= fill * inside(duct) + 1e-9:
            return duct
    return ducts[-1]


def _areas(layout: Layout, routes: Routes) -> tuple[list[Mm2], list[Mm2]]:
    """Return the fullest wire areas: lines of ducts across from the top, upright from the left."""
    across: dict[Mm, Mm2] = {}
    upright: dict[Mm, Mm2] = {}
    for tag, duct in layout.ducts.items():
        line, at = (across, -duct.y) if duct.run is Run.ACROSS else (upright, duct.x)
        line[at] = max(line.get(at, 0.0), routes.loads[tag].area)
    return [across[at] for at in sorted(across)], [upright[at] for at in sorted(upright)]


def _total_width(sizes: DuctSizes) -> Mm:
    sides = (d.width for d in (sizes.left, sizes.middle, sizes.right) if d is not None)
    return sum(d.width for d in sizes.across) + sum(sides)


def fitting_sizes(
    now: DuctSizes, layout: Layout, routes: Routes, stock: Stock, fill: Ratio
) -> DuctSizes:
    """Return the sizes that carry what the routes ask, all of the height that needs least width."""
    across, upright = _areas(layout, routes)
    options: list[tuple[bool, Mm, Mm, DuctSizes]] = []
    for height, ducts in of_one_height(stock).items():
        sides = [smallest(ducts, area, fill) for area in upright]
        sizes = DuctSizes(
            across=tuple(smallest(ducts, area, fill) for area in across),
            left=sides[0] if now.left else None,
            right=sides[-1] if now.right else None,
            middle=sides[1 if now.left else 0] if now.middle else None,
        )
        fits = max([*across, *upright], default=0.0) <= fill * inside(ducts[-1])
        options.append((not fits, _total_width(sizes), height, sizes))
    return min(options, key=lambda option: option[:3])[3]


def grown(now: DuctSizes, wanted: DuctSizes) -> DuctSizes:
    """Return the larger of two sizes duct by duct, so that re-sizing comes to an end."""

    def larger(a: DuctStock | None, b: DuctStock | None) -> DuctStock | None:
        if a is None or b is None:
            return a or b
        return max(a, b, key=lambda d: (inside(d), d.name))

    across = tuple(
        max(a, b, key=lambda d: (inside(d), d.name))
        for a, b in zip(now.across, wanted.across, strict=True)
    )
    return DuctSizes(
        across=across,
        left=larger(now.left, wanted.left),
        right=larger(now.right, wanted.right),
        middle=larger(now.middle, wanted.middle),
    )


def overfull(layout: Layout, routes: Routes, fill: Ratio) -> Mapping[str, Ratio]:
    """Return the ducts fuller than ``fill``."""
    return {
        tag: load.fill
        for tag, load in routes.loads.items()
        if tag in layout.ducts and load.fill > fill + 1e-9
    }
