"""``as-built`` and ``changes``: the plate as it is, and as it was."""

from __future__ import annotations

import sys
from argparse import Namespace

from platewright.cli.words import SAFETY, counted, said


def as_built(args: Namespace) -> int:
    """Write down what was measured and drilled; say what it changes."""
    from platewright.app.editing.as_built import as_built as write_down
    from platewright.app.report import any_failed, counts
    from platewright.rules.registry import run_rules

    if not (args.set or args.drilled or args.marked or args.give_up):
        print(
            "Say what was measured or done: --set=-T1=120,45.5, --drilled H1..H12, "
            "--give-up H3,H7..H9",
            file=sys.stderr,
        )
        return 2
    done = write_down(
        args.job, places=args.set, drilled=args.drilled, marked=args.marked, give_up=args.give_up,
        far=args.far,
    )  # fmt: skip
    for line in done.told:
        print(line)
    if done.better:
        print(f"No longer found: {', '.join(sorted({one.rule.id for one in done.better}))}")
    if done.worse:
        print("New findings:")
        for line in said(done.worse, everything=False):
            print(line)
    findings = run_rules(done.panel)
    print(counted(counts(findings)))
    holes = [hole for hole in done.panel.layout.holes.values() if not hole.is_idle_mark]
    print(f"{sum(h.is_to_drill for h in holes)} of {len(holes)} holes are still to be drilled.")
    was = done.before.layout.holes
    loose = any(was[t].holds and not h.holds for t, h in done.panel.layout.holes.items())
    after = "plan" if loose else "sheets"  # marks wiped off ask for no plan
    print(f"Written: {args.job / 'layout.toml'}. Next: platewright {after} {args.job}")
    print(SAFETY)
    return int(any_failed(findings))


def changes(args: Namespace) -> int:
    """Draw and list what differs between two revisions."""
    from platewright.app.report import fail_words
    from platewright.app.revisions import compare_revisions

    found = compare_revisions(args.job, args.other, args.out)
    for note in found.notes:
        print(f"note: {note}", file=sys.stderr)
    for one in found.found:
        print(f"{one.kind} {one.tag}: {one.what}, {one.words}")
    print(f"{len(found.found)} differences.")
    if found.fails:
        print(f"NOT TO BUILD: {fail_words(found.fails)}. It stands on every page.")
    for path in found.files:
        print(path)
    return 0
