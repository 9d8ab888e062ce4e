"""Print benchmarks: every ``bench_NAME.py`` gives rows of name, value, unit, baseline, ratio.

Value and baseline are measured in the same run, or the baseline is the limit that the work is
held to (``baseline_is`` says which, where a row has it); the ratio says how they compare. No
number here is a test: machines differ. What takes many minutes runs only when its name is given
whole.
"""

from __future__ import annotations

import argparse
import importlib
import inspect
import json
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
ONLY_BY_NAME = ("no_fails", "ten_vs_sixty")  # many minutes each


def main() -> int:
    """Run the benchmarks asked for."""
    names = sorted(p.stem.removeprefix("bench_") for p in HERE.glob("bench_*.py"))
    parser = argparse.ArgumentParser(description="Benchmarks: " + ", ".join(names))
    parser.add_argument("name", nargs="*", help="which (all, if none is named)")
    parser.add_argument("--json", action="store_true", help="print rows as JSON")
    parser.add_argument("--data", type=Path, help="folder of open data, where a benchmark uses it")
    parser.add_argument("--seeds", type=int, help="generated jobs of each size")
    parser.add_argument("--seconds", type=float, help="how long each plan searches")
    args = parser.parse_args()
    chosen = [n for n in names if _is_asked(n, args.name)]
    if not chosen:
        print(f"no benchmark is called {' '.join(args.name)}. Known: {', '.join(names)}")
        return 2
    rows: list[dict[str, object]] = []
    for name in chosen:
        measure = importlib.import_module(f"bench_{name}").rows
        given = {"seeds": args.seeds, "seconds": args.seconds}
        takes = inspect.signature(measure).parameters
        made = measure(args.data, **{k: v for k, v in given.items() if v and k in takes})
        rows += made
        if not args.json:
            for row in made:
                print(_line(row), flush=True)
    if args.json:
        print(json.dumps(rows, indent=1, allow_nan=False))
    return 0


def _is_asked(name: str, words: list[str]) -> bool:
    if name in ONLY_BY_NAME:
        return name in words
    return not words or any(name.startswith(word) for word in words if word not in ONLY_BY_NAME)


def _line(row: dict[str, object]) -> str:
    def told(value: object) -> str:
        return f"{value:.4g}" if isinstance(value, float) else str("" if value is None else value)

    name, value, unit, baseline, ratio = (
        told(row.get(key)) for key in ("name", "value", "unit", "baseline", "ratio")
    )
    line = f"{name:36} {value:>12} {unit:8} {baseline:>12} {ratio:>8}"
    return f"{line}  {row['baseline_is']}" if row.get("baseline_is") else line


if __name__ == "__main__":
    sys.exit(main())
