"""Tests about the code itself: floors, walls, names, and what the command line loads."""

from __future__ import annotations

import ast
import dataclasses
import re
import subprocess
import sys
import typing
from collections.abc import Iterator
from pathlib import Path

import pytest

import platewright
from platewright.foundation.units import Unit

ROOT = Path(__file__).resolve().parents[2]
SRC = ROOT / "src" / "platewright"
MODULES = sorted(SRC.rglob("*.py"))

MODULE_WALL = 500
FUNCTION_WALL = 60
# may only shrink; each with its reason
LONG_FUNCTIONS = {
    "fabricate/kernels/cover.py:cover": "one depth-first loop with its own stack",
    "arrange/kernels/evaluate.py:pack_row": "one pass over a row; split, the compiler makes it slower",
    "arrange/kernels/anneal.py:_walk": "one loop with its own bookkeeping",
}


def test_layers_hold() -> None:
    run = subprocess.run(
        [sys.executable, "-c", "from importlinter.cli import lint_imports_command as c; c()"],
        cwd=ROOT, env={"PYTHONPATH": str(ROOT / "src"), "PATH": "/usr/bin:/bin"},
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert run.returncode == 0, run.stdout


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(SRC)))
def test_no_module_passes_the_wall(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MODULE_WALL


def _functions(path: Path) -> Iterator[tuple[str, int]]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef):
            first = node.body[0]
            has_doc = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)
            start = node.body[1].lineno if has_doc and len(node.body) > 1 else first.lineno
            yield (
                f"{path.relative_to(SRC).as_posix()}:{node.name}",
                (node.end_lineno or 0) - start + 1,
            )


def test_no_function_passes_the_wall() -> None:
    long = {n for p in MODULES for n, lines in _functions(p) if lines > FUNCTION_WALL}
    assert long <= set(LONG_FUNCTIONS), long - set(LONG_FUNCTIONS)


def test_the_exceptions_to_the_wall_are_still_needed() -> None:
    lengths = dict(pair for path in MODULES for pair in _functions(path))
    assert all(lengths[name] > FUNCTION_WALL for name in LONG_FUNCTIONS)


def test_no_module_is_named_for_nothing() -> None:
    forbidden = {"utils", "util", "helpers", "common", "misc", "base", "manager", "core"}
    assert not [p for p in MODULES if p.stem in forbidden]


def _records() -> Iterator[type]:
    import importlib

    for path in sorted((SRC / "model").glob("*.py")):
        module = importlib.import_module(f"platewright.model.{path.stem}")
        for thing in vars(module).values():
            is_record = dataclasses.is_dataclass(thing) and isinstance(thing, type)
            if is_record and thing.__module__ == module.__name__:
                yield thing


def _has_unit(hint: object) -> bool:
    if any(isinstance(m, Unit) for m in getattr(hint, "__metadata__", ())):
        return True
    return any(_has_unit(a) for a in typing.get_args(hint) if a is not float)


def test_every_number_of_a_record_names_its_unit() -> None:
    weights = {"Aims"}  # plain weights, in metres of wire each
    judged = {"Reading", "Finding", "Banded"}  # carry their unit beside them
    scales = {"Bench.printer_scale_x", "Bench.printer_scale_y"}  # of lengths: plain numbers
    for record in _records():
        if record.__name__ in weights | judged:
            continue
        hints = typing.get_type_hints(record, include_extras=True)
        for field in dataclasses.fields(record):
            text = str(hints[field.name])
            name = f"{record.__name__}.{field.name}"
            if re.search(r"\bfloat\b", text) and name not in scales:
                assert _has_unit(hints[field.name]), name


def test_every_record_is_frozen() -> None:
    for record in _records():
        assert record.__dataclass_params__.frozen, record  # type: ignore[attr-defined]


def test_no_bare_conversion_factor_outside_units() -> None:
    bare = re.compile(r"(?<![\w.])(25\.4|0\.112985|273\.15|1e-6 \*|\* 1e-6)(?![\w.])")
    allowed = {"foundation/units.py"}
    for path in MODULES:
        name = path.relative_to(SRC).as_posix()
        if name in allowed or "/heat/" in f"/{name}":
            continue
        code = "\n".join(
            line.split("#")[0] for line in path.read_text(encoding="utf-8").splitlines()
        )
        assert not bare.search(re.sub(r'"""[\s\S]*?"""', "", code)), name


def test_help_loads_nothing_heavy() -> None:
    run = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "platewright", "--help"],
        env={"PYTHONPATH": str(ROOT / "src"), "PATH": "/usr/bin:/bin"},
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    loaded = set(re.findall(r"\|\s+(\w+)", run.stderr))
    heavy = {
        "numpy",
        "numba",
        "scipy",
        "pydantic",
        "ezdxf",
        "reportlab",
        "highspy",
        "openpyxl",
        "rich",
    }
    assert not loaded & heavy
    assert "plan" in run.stdout


def test_the_version_is_said_once() -> None:
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    assert f'version = "{platewright.__version__}"' in text


def test_every_folder_of_the_package_is_in_the_readme() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    for folder in sorted(p for p in SRC.iterdir() if p.is_dir() and not p.name.startswith("__")):
        assert f"`{folder.name}" in readme, folder.name
