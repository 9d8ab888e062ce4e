"""``platewright size``: the smallest and the cheapest enclosure that fit."""

from __future__ import annotations

import json
import sys
from argparse import Namespace

from platewright.cli.words import SAFETY, in_columns


def size(args: Namespace) -> int:
    """Try the shop's enclosures; name the smallest and the cheapest that fit."""
    from platewright.app.plans.size import DEFAULT_MOVES, Outcome, Sizing, size_folder, sized_record
    from platewright.cli.progress import progress_line

    with progress_line(quiet=args.json) as progress:
        found = size_folder(
            args.job, enclosures=args.enclosures, seed=args.seed,
            moves=args.iterations or DEFAULT_MOVES, every=args.all, progress=progress,
        )  # fmt: skip
    for note in found.notes:
        print(f"note: {note}", file=sys.stderr)
    status = 0 if found.smallest else 1
    if args.json:
        print(json.dumps(sized_record(found), ensure_ascii=False, indent=1))
        return status

    def cells(row: Sizing) -> tuple[str, ...]:
        e, worth = row.enclosure, row.worth
        return (
            e.name, row.outcome.value, "–" if e.price is None else str(e.price),
            "–" if row.inside is None else f"{row.inside:.1f} °C",
            f"{worth.wire:.1f} m" if worth else "–", f"{100 * worth.area:.0f} %" if worth else "–",
        )  # fmt: skip

    head = ("enclosure", "outcome", "price", "air inside", "wire", "plate used")
    lines = list(in_columns([head, *(cells(row) for row in found.rows)]))
    print(lines[0])
    for line, row in zip(lines[1:], found.rows, strict=True):
        print(line)
        for said in (*((row.why,) if row.why else ()), *row.remarks):
            print(f"      {said}")
    print(_chosen("Smallest that fits", found.smallest.name if found.smallest else ""))
    if any(row.enclosure.price is not None for row in found.rows):
        print(_chosen("Cheapest that fits", found.cheapest.name if found.cheapest else ""))
    if any(row.outcome is Outcome.MAYBE_WARM for row in found.rows):
        print(
            '"undecided" is too near to what the job wants for the estimate to tell: take a larger '
            "one that fits, or cool it."
        )
    print(
        '"can\'t fit" is a proof (rows between ducts); "not found" is where the search ended: '
        "--iterations N searches longer."
    )
    print(SAFETY)
    return status


def _chosen(words: str, name: str) -> str:
    return f"{words}: {name or 'none of the list'}"
