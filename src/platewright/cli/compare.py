"""``platewright plan --compare``: plates by several weighings, side by side."""

from __future__ import annotations

import json
import sys
from argparse import Namespace

from platewright.cli.words import SAFETY, in_columns
from platewright.foundation.errors import InputError, InputErrors


def compare(args: Namespace) -> int:
    """Plan by several weighings; print and draw the trade-off."""
    from platewright.app.plans.compare import (
        DEFAULT_MOVES,
        compare_folder,
        comparison_record,
        remarks_of,
    )
    from platewright.app.plans.heartbeat import beating
    from platewright.app.plans.plan import Budget
    from platewright.app.plans.worth import told
    from platewright.cli.progress import progress_line

    if args.preset:
        fault = InputError(
            file="command line", field="--preset", value=args.preset,
            problem="does not go with --compare and --take, which plan by every preset",
            cure=f"Leave it out, or take its plate: --take {args.preset}",
        )  # fmt: skip
        raise InputErrors([fault])
    moves = None if args.seconds else args.iterations or DEFAULT_MOVES
    with progress_line(quiet=args.json) as bar, beating(bar) as progress:
        found = compare_folder(
            args.job, seed=args.seed, budget=Budget(moves=moves, seconds=args.seconds), take=args.take,
            progress=progress,
        )  # fmt: skip
    for note in found.notes:
        print(f"note: {note}", file=sys.stderr)
    if args.json:
        print(json.dumps(comparison_record(found), ensure_ascii=False, indent=1))
        return 0
    unit = found.alternatives[0].planned.panel.job.settings.units
    for line in in_columns(told({one.name: one.worth for one in found.alternatives}, unit)):
        print(line)
    for one in found.alternatives:
        remarks = "; ".join(remarks_of(one))
        print(
            f"{one.name}: {one.title}{'. ' + remarks[0].upper() + remarks[1:] if remarks else ''}"
        )
    for name, why in found.failed.items():
        print(f"{name}: no plate. {why}")
    moves = found.alternatives[0].planned.moves
    print(f"The same plates again: --seed {args.seed} --iterations {moves}")
    if found.taken:
        print(f"Written: {args.job / 'layout.toml'} by {found.taken}. Next: platewright sheets")
    else:
        print(f"layout.toml is as it was. Take one: platewright plan {args.job} --take NAME")
    for path in found.files:
        print(path)
    print(SAFETY)
    return 0
