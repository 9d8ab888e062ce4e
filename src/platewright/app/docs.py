"""Write the documents that follow from the code: columns, schemas, rules, units."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path

from platewright.foundation import units
from platewright.foundation.units import ALIASES, Unit
from platewright.jobfile.reference import reference_files
from platewright.rules.reference import rule_pages


def units_page() -> str:
    """Return the table of units: what the program counts in, and what files may be written in."""
    found = {
        meta.suffix: meta
        for alias in vars(units).values()
        for meta in getattr(alias, "__metadata__", ())
        if isinstance(meta, Unit)
    }
    lines = [
        "# Units",
        "",
        "One unit for each quantity inside the program. At the edge a column or key carries the",
        "unit in its name (`width_mm`, `width_in`), and a number may carry it behind (`4.5 in`).",
        "Axes: the plate from the front, origin lower left, x right, y up, z out of the plate.",
        "",
        "| unit | suffix | also read |",
        "|---|---|---|",
    ]
    for suffix, unit in sorted(found.items()):
        others = ", ".join(f"`{word}`" for word in ALIASES.get(suffix, {}) if word != suffix)
        lines.append(f"| {unit.symbol or 'share of 1'} | `{suffix}` | {others} |")
    return "\n".join(lines) + "\n"


def documents() -> Mapping[str, str]:
    """Return file names below ``docs`` and their text."""
    rules = {f"rules/{name}": text for name, text in rule_pages().items()}
    return {**reference_files(), **rules, "units.md": units_page()}


def write(docs: Path) -> None:
    """Write all of them."""
    for name, text in documents().items():
        path = docs / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    write(Path(sys.argv[1]))
