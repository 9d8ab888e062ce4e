"""What ``platewright plan`` prints."""

from __future__ import annotations

import json
from argparse import Namespace
from typing import Any

from platewright.app.plans.heartbeat import beating
from platewright.app.plans.must_come_off import record
from platewright.app.plans.must_come_off import told as off_first
from platewright.app.plans.plan import Budget
from platewright.app.plans.plan_folder import PlannedFolder, plan_folder
from platewright.app.plans.worth import cut_lengths, worth_record
from platewright.app.plans.worth import told as worth_table
from platewright.app.report import any_failed, counts, fail_words, finding_record, totals
from platewright.cli.progress import progress_line
from platewright.cli.words import SAFETY, counted, explained, in_columns, noted, said, summed


def plan(args: Namespace) -> int:
    """Find where everything goes, and say what came out."""
    budget = Budget(
        moves=args.iterations, seconds=args.seconds, polish=args.polish, explain=args.explain
    )
    with progress_line(quiet=args.json) as bar, beating(bar) as progress:
        done = plan_folder(
            args.job, seed=args.seed, budget=budget, baseline=args.baseline, progress=progress,
            by_preset=args.preset,
        )  # fmt: skip
    noted(done.notes)
    told = _totals(done, is_baseline=args.baseline) | {"preset": args.preset}
    if args.json:
        record = {
            "findings": [finding_record(f) for f in done.findings],
            "counts": counts(done.findings),
            "totals": told,
        }
        print(json.dumps(record, ensure_ascii=False, indent=1))
    else:
        if args.preset:
            print(
                f"Weights of the preset {args.preset}, for this run alone; job.toml is as it was."
            )
        _say(done, told)
        print(f"Written: {args.job / 'layout.toml'}. Next: platewright sheets {args.job}")
        print(SAFETY)
    return int(any_failed(done.findings))


def _totals(done: PlannedFolder, *, is_baseline: bool) -> dict[str, Any]:
    planned = done.planned
    return totals(done.panel) | {
        "baseline_wire_m": totals(planned.baseline)["wire_m"],
        "baseline_missing_mm": round(planned.baseline_missing, 1),
        "baseline_fails": counts(done.baseline_findings)["FAIL"],
        "rows": planned.rows,
        "cut_lengths_unsought": planned.cut_lengths_unsought,
        "seed": planned.seed,
        "iterations": planned.moves,
        "tried": planned.tried,
        "stopped": planned.stopped,
        "is_baseline": is_baseline,
        "changes": done.changes,
        "new_holes": [record(one) for one in done.new_holes],
        "explained": list(explained(planned.explained)),
        "for_heat": list(planned.for_heat),
        "worth": {k.replace(" ", "_"): worth_record(w) for k, w in done.worths.items()},
    }


def _say(done: PlannedFolder, told: dict[str, Any]) -> None:
    for line in said(done.findings, everything=False):
        print(line)
    unit = done.panel.job.settings.units
    first = off_first(done.new_holes, unit)
    heat = () if told["is_baseline"] else done.planned.for_heat
    for line in (*heat, *explained(done.planned.explained), *done.changes, *first):
        print(line)
    _compare(told, totals(done.planned.panel)["wire_m"])
    for line in in_columns(worth_table(done.worths, unit)):
        print(line)
    for note in {note: None for worth in done.worths.values() for note in worth.notes}:
        print(f"  {note}")
    fewer, plain = cut_lengths(done.panel.layout), done.planned.cut_lengths_unsought
    if fewer < plain and not told["is_baseline"]:
        print(
            f"Different cut lengths: {fewer}, where rails as long as their room would make {plain}."
        )
    print(counted(counts(done.findings)))
    print(summed(told))


def _compare(told: dict[str, Any], wire: float) -> None:
    base = float(told["baseline_wire_m"])
    share = round(100 * (1 - wire / base)) if base > 0 else 0
    saved = f", {abs(share)} % {'less' if share > 0 else 'more'}" if share else ""
    cannot = f" ({fail_words(told['baseline_fails'])} there)" if told["baseline_fails"] else ""
    print(
        f"{told['rows']} rows. Wire {wire} m; in list order, filled row by row, "
        f"{base} m{cannot}{saved}."
    )
    if told["stopped"]:
        print(f"Search stopped early after {told['tried']} moves; the best plate so far is kept.")
    else:
        print(
            f"Searched {told['tried']} moves of a budget of {told['iterations']}. The same plate "
            f"again: --seed {told['seed']} --iterations {told['iterations']}"
        )
