"""The commands and their arguments. Nothing heavy is imported before a command runs."""

from __future__ import annotations

import argparse
from pathlib import Path

from platewright import __version__

_EPILOG = """\
A job is a folder of text files: job.toml, devices.csv, wires.csv and (if you have data sheets)
parts.csv. Start one from your lists with "platewright new". "platewright" alone, in a job's
folder, says what to do next.
"""


def _whole(text: str) -> int:
    value = int(text)
    if value < 0:
        raise argparse.ArgumentTypeError(f"{text} is below 0")
    return value


def _seconds(text: str) -> float:
    value = float(text)
    if not 0 < value <= 86_400:
        raise argparse.ArgumentTypeError(f"{text} is not between 0 and 86400 seconds")
    return value


def _port(text: str) -> int:
    value = int(text)
    if not 0 <= value <= 65_535:
        raise argparse.ArgumentTypeError(f"{text} is not between 0 and 65535")
    return value


def _cell(text: str) -> float:
    value = float(text)
    if not 10 <= value <= 50:
        raise argparse.ArgumentTypeError(f"{text} is not between 10 and 50 mm")
    return value


def _add_new(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    new = commands.add_parser("new", help="start a job from a device list and a wire list")
    new.add_argument("folder", type=Path, metavar="DIR", help="folder to make")
    new.add_argument(
        "--devices", type=Path, metavar="LIST", required=True, help="device list, XLSX or CSV"
    )
    new.add_argument("--wires", type=Path, metavar="LIST", help="wire list, XLSX or CSV")
    new.add_argument("--title", default="", help="name of the job")
    new.add_argument(
        "--practice", choices=("north-america", "iec"), default="iec", help="rules to build by"
    )
    new.add_argument(
        "--units", choices=("mm", "in"), help="unit of bare numbers, here and in the lists"
    )
    new.add_argument(
        "--plate", metavar="WxHxT", help="plate, e.g. 750x1150x2.5mm or 29.5x45.25x0.1in"
    )
    new.add_argument("--enclosure", metavar="WxHxD", help="enclosure outside, e.g. 800x1200x250")
    new.add_argument("--like", type=Path, metavar="JOB", help="take headings as this job took them")
    new.add_argument("--door-inside", metavar="D", help="plate face to the door's inner face")


def _add_plan(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    plan = commands.add_parser("plan", help="find where everything goes; writes layout.toml")
    plan.add_argument("job", type=Path, metavar="JOB", nargs="?", default=Path())
    plan.add_argument("--seed", type=_whole, default=1, help="same seed, same plate")
    budget = plan.add_mutually_exclusive_group()
    budget.add_argument("--seconds", type=_seconds, help="search about this long")
    budget.add_argument("--iterations", type=_whole, help="search this many moves (repeatable)")
    plan.add_argument(
        "--baseline", action="store_true", help="write the plain list-order plate instead"
    )
    plan.add_argument("--polish", action="store_true", help="go on from the layout that is there")
    plan.add_argument(
        "--explain", action="store_true", help="prove what can be proven of the plate, and say it"
    )
    plan.add_argument(
        "--preset", default="", metavar="NAME",
        help="plan by these weights, whatever job.toml says: all-round, least-wire, "
        "smallest-plate, hot-high, heavy-low, easy-cutting, coolest",
    )  # fmt: skip
    plan.add_argument(
        "--compare", action="store_true", help="draw plates by several presets side by side"
    )
    plan.add_argument(
        "--take", default="", metavar="PRESET", help="compare, and write this one to layout.toml"
    )
    plan.add_argument("--json", action="store_true", help="print totals and findings as JSON")


def _add_size(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    size = commands.add_parser("size", help="find the smallest and cheapest enclosure that fits")
    size.add_argument("job", type=Path, metavar="JOB", nargs="?", default=Path())
    size.add_argument(
        "--enclosures", type=Path, metavar="LIST",
        help="the shop's enclosures, CSV (platewright columns enclosures)",
    )  # fmt: skip
    size.add_argument("--seed", type=_whole, default=1, help="same seed, same plates")
    size.add_argument("--iterations", type=_whole, help="search this many moves in each")
    size.add_argument("--all", action="store_true", help="try larger and dearer ones, too")
    size.add_argument("--json", action="store_true", help="print the outcome as JSON")


def _add_as_built(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    built = commands.add_parser("as-built", help="write down what was measured and drilled")
    built.add_argument("job", type=Path, metavar="JOB", nargs="?", default=Path())
    built.add_argument(
        "--set", action="append", default=[], metavar="TAG=x,y",
        help="measured place: lower left corner of a device, start of a rail or duct, middle of a "
        "hole; written as --set=-T1=120,45.5. Bare numbers are in the unit of the job's sheets (units "
        "in job.toml); any length may have its own: 2.12in,20.91in or 53.8mm,531.1mm",
    )  # fmt: skip
    built.add_argument("--drilled", default="", metavar="HOLES", help="H1..H12,H20 or all")
    built.add_argument(
        "--far", action="store_true",
        help="take a hole that was drilled more than 25 mm (1 in) from where it was planned",
    )  # fmt: skip
    built.add_argument("--marked", default="", metavar="HOLES", help="marked on the plate")
    built.add_argument(
        "--give-up", default="", metavar="HOLES",
        help="drilled holes that shall hold nothing any more (H3,H7..H9; a thing's tag for all of "
        "its own, --give-up=-T1): they stay in the plate, left over, and plan may move what they held; marked holes: their marks "
        "are wiped off",
    )  # fmt: skip


def parser() -> argparse.ArgumentParser:
    """Return the parser of the whole command line."""
    top = argparse.ArgumentParser(
        prog="platewright",
        description="From a parts list to a control-panel plate you can drill.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action="version", version=f"platewright {__version__}")
    commands = top.add_subparsers(dest="command", metavar="COMMAND")
    _add_new(commands)
    _add_plan(commands)
    _add_size(commands)
    check = commands.add_parser("check", help="measure a plate against the rules")
    check.add_argument("job", type=Path, metavar="JOB", nargs="?", default=Path())
    check.add_argument("--json", action="store_true", help="print findings as JSON")
    check.add_argument("--all", action="store_true", help="print what passed, too")
    sheets = commands.add_parser("sheets", help="print what the bench needs into JOB/out")
    sheets.add_argument("job", type=Path, metavar="JOB", nargs="?", default=Path())
    sheets.add_argument("--out", type=Path, metavar="DIR", help="folder to write to")
    opened = commands.add_parser("open", help="show and edit the plate in the browser")
    opened.add_argument("job", type=Path, metavar="JOB", nargs="?", default=Path())
    opened.add_argument("--port", type=_port, default=0, help="port on this machine; 0: a free one")
    opened.add_argument("--no-browser", action="store_true", help="only print the address")
    heat = commands.add_parser("heat", help="how warm it gets; the gap one device needs")
    heat.add_argument("job", type=Path, metavar="JOB", nargs="?", default=Path())
    heat.add_argument("--device", default="", metavar="TAG", help="e.g. --device=-T1")
    heat.add_argument(
        "--deep", action="store_true",
        help="solve the air's flow beside it; takes a minute or so, Ctrl-C keeps the best so far",
    )  # fmt: skip
    heat.add_argument(
        "--cell", type=_cell, default=20.0, metavar="MM", help="cells of --deep, 10 to 50 mm"
    )
    heat.add_argument(
        "--picture", type=Path, metavar="FILE", help="write the picture of it, .svg or .png"
    )
    _add_as_built(commands)
    changes = commands.add_parser("changes", help="draw what differs from an earlier revision")
    changes.add_argument("job", type=Path, metavar="JOB")
    changes.add_argument("other", type=Path, metavar="EARLIER", help="a layout.toml or job folder")
    changes.add_argument("--out", type=Path, metavar="DIR", help="folder to write to")
    rules = commands.add_parser("rules", help="what is checked, why, and by which source")
    rules.add_argument("id", nargs="?", default="", help="a rule or family, e.g. space.depth")
    columns = commands.add_parser("columns", help="what each file of a job folder holds")
    columns.add_argument("file", nargs="?", default="", help="e.g. devices.csv")
    parts = commands.add_parser("parts", help="list the starter parts (typical values)")
    parts.add_argument("word", nargs="?", default="", help="only parts with this word")
    parts.add_argument("--row", action="store_true", help="as rows to copy into parts.csv")
    return top
