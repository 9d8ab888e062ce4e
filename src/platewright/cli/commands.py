"""One function a command: run it, print, return the exit status.

0: nothing fails · 1: something fails, or no plate was found · 2: the input can't be used.
"""

from __future__ import annotations

import json
import sys
from argparse import Namespace

from platewright.cli.words import SAFETY, counted, noted, said, summed

_FEW = 12  # starter parts told with their terminals


def check(args: Namespace) -> int:
    """Measure a plate against the rules."""
    from platewright.app.check import check_folder
    from platewright.app.report import any_failed, counts, finding_record, totals

    checked = check_folder(args.job)
    panel, findings = checked.panel, checked.findings
    noted(checked.notes)
    if args.json:
        print(
            json.dumps(
                {
                    "findings": [finding_record(f) for f in findings],
                    "counts": counts(findings),
                    "totals": totals(panel),
                },
                ensure_ascii=False,
                indent=1,
            )
        )
        return int(any_failed(findings))
    for line in said(findings, everything=args.all):
        print(line)
    print(counted(counts(findings)))
    print(summed(totals(panel)))
    print(SAFETY)
    return int(any_failed(findings))


def plan(args: Namespace) -> int:
    """Find where everything goes."""
    if args.compare or args.take:
        from platewright.cli.compare import compare

        return compare(args)
    from platewright.cli.plan import plan as run

    return run(args)


def size(args: Namespace) -> int:
    """Find the smallest and the cheapest enclosure that fit."""
    from platewright.cli.size import size as run

    return run(args)


def heat(args: Namespace) -> int:
    """Say how warm it gets, or how much gap one device needs."""
    from platewright.cli.heat import heat as run

    return run(args)


def as_built(args: Namespace) -> int:
    """Write down the plate as it was built."""
    from platewright.cli.bench import as_built as run

    return run(args)


def changes(args: Namespace) -> int:
    """Draw what differs from an earlier revision."""
    from platewright.cli.bench import changes as run

    return run(args)


def sheets(args: Namespace) -> int:
    """Print what the bench needs."""
    from platewright.app.publish import publish

    written, checked = publish(args.job, args.out)
    noted(checked.notes)
    for path in written:
        print(path)
    from platewright.app.report import counts, fail_words

    found = counts(checked.findings)
    print(counted(found))
    if found["FAIL"]:
        print(f"NOT TO BUILD: {fail_words(found['FAIL'])}. It stands on every sheet.")
    print(SAFETY)
    return 0


def open(args: Namespace) -> int:  # noqa: A001  (the command's own word)
    """Show and edit the plate in the browser."""
    from platewright.web.serve import serve

    return serve(args.job, port=args.port, browser=not args.no_browser)


def rules(args: Namespace) -> int:
    """Say what is checked, why, and by which source."""
    from platewright.rules.registry import rule_infos

    chosen = [r for r in rule_infos() if r.id == args.id or r.id.startswith(args.id)]
    if not chosen:
        from platewright.foundation.errors import nearest

        print(
            f"no rule is called {args.id!r}. {nearest(args.id, (r.id for r in rule_infos()))}",
            file=sys.stderr,
        )
        return 2
    for rule in chosen:
        print(f"{rule.id}\n  {rule.title}\n  {rule.why}\n  by: {rule.source}")
    return 0


def parts(args: Namespace) -> int:
    """List the starter parts."""
    from platewright.jobfile.folder import starter_parts

    word = args.word.lower()
    found = [
        part
        for part in starter_parts().values()
        if word in f"{part.part} {part.description} {part.kind}".lower()
    ]
    if not found:
        print(f"no starter part has {args.word!r} in its name or description", file=sys.stderr)
        return 2
    if args.row:
        from platewright.jobfile.tables_write import table_bytes
        from platewright.model.part import Part

        print(table_bytes(Part, found).decode(), end="")
        return 0
    for part in found:
        size = f"{part.width:g} × {part.height:g} × {part.depth:g} mm"
        print(f"{part.part:28} {size:24} {part.description}")
        if len(found) <= _FEW:
            print(f"    terminals: {' '.join(part.terminals) or 'none'}")
            shared = " ".join(part.shared_terminals)
            print(f"    two wires in one clamp: {shared or 'nowhere'}")
    print("All values are typical, by the trade's standard widths: replace them by data sheets.")
    print("platewright parts WORD --row prints rows to copy into parts.csv.")
    return 0


def new(args: Namespace) -> int:
    """Start a job from a device list and a wire list."""
    from platewright.app.new import new_job

    report = new_job(
        args.folder,
        devices=args.devices,
        wires=args.wires,
        title=args.title,
        practice=args.practice,
        units=args.units,
        plate=args.plate,
        enclosure=args.enclosure,
        door_inside=args.door_inside,
        like=args.like,
    )
    for column_map, name in ((report.columns.devices, "device"), (report.columns.wires, "wire")):
        for column, heading in column_map.items():
            print(f"{name} list: heading {heading!r} was read as {column}")
    for heading in report.unused:
        print(f"not used: heading {heading!r}")
    for note in report.notes:
        print(f"assumed: {note}")
    for fault in report.skipped:
        print(f"left out: {fault}")
    print(
        f"{report.folder}: {report.devices} devices, {report.parts} parts, {report.wires} wires; "
        f"{report.rows_left_out} row{'' if report.rows_left_out == 1 else 's'} left out."
    )
    if report.to_fill:
        print(f"Fill in {', '.join(report.to_fill)} in {report.folder / 'job.toml'}. ", end="")
    print(f"Next: platewright plan {report.folder}")
    return 0


def columns(args: Namespace) -> int:
    """Say what each file of a job folder holds."""
    from platewright.cli.plain_text import plain_text
    from platewright.jobfile.reference import columns_page

    page = columns_page()
    if not args.file:
        print(plain_text(page))
        return 0
    chapters = [c for c in page.split("\n## ") if args.file.lower() in c.split("\n")[0].lower()]
    if not chapters:
        print(f"no file is called {args.file!r}; platewright columns lists all", file=sys.stderr)
        return 2
    print(plain_text("\n".join("## " + chapter for chapter in chapters)))
    return 0
