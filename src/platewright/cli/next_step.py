"""What to do next in a folder, from what lies there."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

_START = """\
No job lies in this folder (there is no job.toml).

  Start one from your lists:  platewright new MYJOB --devices parts.xlsx --wires wires.xlsx
  See what the files hold:    platewright columns
  Parts with typical values:  platewright parts
  All commands:               platewright --help"""


def next_step(folder: Path) -> int:
    """Print what to do next in a folder; 0, or 2 when its files have faults."""
    if not (folder / "job.toml").exists():
        jobs = sorted(p.parent.name for p in folder.glob("*/job.toml"))
        print(_START)
        if jobs:
            print(f"\nJobs beside you: {', '.join(jobs)}. Go on with: cd {jobs[0]}; platewright")
        return 0
    from platewright.app.check import check_folder
    from platewright.app.report import counts
    from platewright.foundation.errors import InputErrors

    try:
        checked = check_folder(folder)
    except InputErrors as errors:
        print("First correct the files:")
        for fault in errors.faults:
            print(f"  {fault}", file=sys.stderr)
        print("Then run platewright again.")
        return 2
    panel, findings = checked.panel, checked.findings
    for note in checked.notes:
        print(f"note: {note}")
    title = panel.job.settings.job.title
    print(f"{title}: {len(panel.job.on_plate)} devices, {len(panel.job.wires)} wires.")
    for line in _advice(folder, len(panel.layout.devices), counts(findings)):
        print(line)
    return 0


def _advice(folder: Path, placed: int, counts: dict[str, int]) -> Iterator[str]:
    from platewright.app.report import fail_words

    if placed == 0:
        yield "Nothing stands on the plate yet. Next: platewright plan"
        return
    yield (
        f"{placed} devices stand on the plate: {fail_words(counts['FAIL'])}, "
        f"{counts['CAUTION']} CAUTION, {counts['UNDECIDED']} UNDECIDED."
    )
    if counts["FAIL"]:
        yield "Next: platewright check    (what is wrong, by how much, and what cures it)"
        yield "   or platewright plan     (find a new layout; what is locked or drilled stays)"
        return
    layout, package = folder / "layout.toml", folder / "out" / "package.pdf"
    if not package.exists():
        yield "Next: platewright sheets   (drawing, cut list, hole schedule, wire list)"
    elif package.stat().st_mtime < layout.stat().st_mtime:
        yield "The sheets in out/ are older than the layout. Next: platewright sheets"
    else:
        yield "The sheets lie in out/. Print package.pdf at 100 %."
        yield "Changed something? platewright check, then platewright plan."
