"""Print benchmarks: every ``bench_NAME.py`` gives rows of name, value, unit, baseline, ratio.

Value and baseline are measured in the same run; the ratio says how they compare. No number here
is a test: machines differ.
"""

from __future__ import annotations

import argparse
import importlib
import json
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent


def main() -> int:
    """Run the benchmarks asked for."""
    names = sorted(p.stem.removeprefix("bench_") for p in HERE.glob("bench_*.py"))
    parser = argparse.ArgumentParser(description="Benchmarks: " + ", ".join(names))
    parser.add_argument("name", nargs="*", help="which (all, if none is named)")
    parser.add_argument("--json", action="store_true", help="print rows as JSON")
    parser.add_argument("--data", type=Path, help="folder of open data, where a benchmark uses it")
    args = parser.parse_args()
    chosen = [n for n in names if not args.name or any(n.startswith(a) for a in args.name)]
    if not chosen:
        print(f"no benchmark is called {' '.join(args.name)}. Known: {', '.join(names)}")
        return 2
    rows: list[dict[str, object]] = []
    for name in chosen:
        made = importlib.import_module(f"bench_{name}").rows(args.data)
        rows += made
        if not args.json:
            for row in made:
                print(_line(row), flush=True)
    if args.json:
        print(json.dumps(rows, indent=1))
    return 0


def _line(row: dict[str, object]) -> str:
    def told(value: object) -> str:
        return f"{value:.4g}" if isinstance(value, float) else str("" if value is None else value)

    name, value, unit, baseline, ratio = (
        told(row.get(key)) for key in ("name", "value", "unit", "baseline", "ratio")
    )
    return f"{name:36} {value:>12} {unit:8} {baseline:>12} {ratio:>8}"


if __name__ == "__main__":
    sys.exit(main())
