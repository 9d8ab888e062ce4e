"""Set Platewright up and run it: the only task runner. Standard library only.

    python3 run.py demo            plan the example and print its sheets
    python3 run.py test [...]      all tests (more words go to pytest)
    python3 run.py lint            format, lint, types, layers, lock in step
    python3 run.py bench [NAME] [--json] [--data DIR]
    python3 run.py golden          write expected drawings and generated docs anew (look at each)
    python3 run.py serve [JOB]     look at a job's sheets in the browser

The environment is made in .venv from requirements.lock (every file hash-checked, nothing
compiled) and made anew when the lock changes.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parent
ENV = ROOT / ".venv"
LOCK = ROOT / "requirements.lock"
STAMP = ENV / "made-from"
BIN = ENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")


def main(words: list[str]) -> int:
    """Run the task named by the first word; return its exit status."""
    tasks = {
        "demo": demo,
        "test": test,
        "lint": lint,
        "bench": bench,
        "golden": golden,
        "serve": serve,
    }
    if not words or words[0] not in tasks:
        print(__doc__)
        return 0 if not words or words[0] in {"-h", "--help", "help"} else 2
    if sys.version_info < (3, 11):  # noqa: UP036  (the script must say so itself)
        print("Platewright needs Python 3.11 or later.", file=sys.stderr)
        return 2
    make_environment()
    return tasks[words[0]](words[1:])


def demo(words: list[str]) -> int:
    """Plan the small example and print its sheets."""
    job = Path(words[0]) if words else ROOT / "examples" / "bottle-rinser"
    for command in (["plan", str(job), "--iterations", "400000"], ["sheets", str(job)]):
        print(f"\n> platewright {' '.join(command)}", flush=True)
        status = platewright(command)
        if status:
            return status
    print(f"\nThe results lie in {job / 'out'}: open package.pdf, or layout-1.svg in a browser.")
    return 0


def test(words: list[str]) -> int:
    """Run all tests, on as many processes as there are cores.

    Each process takes a run of neighbours, so that what a file's tests share is made once, and
    helps out at the end with what is left of another's.
    """
    if not any(word.startswith("-n") for word in words):
        words = ["-n", str(os.cpu_count() or 1), "--dist", "worksteal", *words]
    return python(["-m", "pytest", *words])


def lint(_words: list[str]) -> int:
    """Check format, lint, types, layers and that the lock is in step with pyproject.toml."""
    status = 0
    for command in (
        ["-m", "ruff", "format", "--check", "."],
        ["-m", "ruff", "check", "."],
        ["-m", "mypy"],
        ["-c", "from importlinter.cli import lint_imports_command; lint_imports_command()"],
    ):
        status |= python(command)
    return status


def bench(words: list[str]) -> int:
    """Print benchmarks as rows of name, value, unit, baseline, ratio."""
    return python([str(ROOT / "bench" / "run_bench.py"), *words])


def golden(words: list[str]) -> int:
    """Write the expected drawings and the documents that follow from the code anew."""
    status = python(["-m", "platewright.app.docs", "docs"])
    return status or python(["-m", "pytest", "tests/golden", "-n", "0", "--golden-update", *words])


def serve(words: list[str]) -> int:
    """Show a job's sheets in the browser, from this machine only."""
    job = words[0] if words else str(ROOT / "examples" / "bottle-rinser")
    return platewright(["open", job])


def platewright(words: list[str]) -> int:
    """Run the command ``platewright``."""
    return python(["-m", "platewright", *words])


def python(words: list[str]) -> int:
    """Run the environment's Python with these arguments."""
    environment = dict(os.environ, PYTHONPATH=str(ROOT / "src"), PYTHONUTF8="1")
    return subprocess.call([str(PYTHON), *words], cwd=ROOT, env=environment)


def make_environment() -> None:
    """Make the environment from the lock, unless it is already made from this lock."""
    wanted = hashlib.sha256(LOCK.read_bytes() + sys.version.encode()).hexdigest()
    if STAMP.exists() and STAMP.read_text(encoding="utf-8") == wanted and PYTHON.exists():
        return
    print("Setting up: once, about 150 MB to fetch …", flush=True)
    pip = _bare_environment()
    subprocess.check_call(
        [*pip, "install", "--quiet", "--disable-pip-version-check", "--require-hashes",
         "--only-binary", ":all:", "-r", str(LOCK)]
    )  # fmt: skip
    _install_command()
    print("Compiling the search once …", flush=True)
    python(["-m", "platewright.app.plans.warm"])
    STAMP.write_text(wanted, encoding="utf-8")


def _bare_environment() -> list[str]:
    """Make an empty environment; return the pip command that fills it."""
    try:
        venv.EnvBuilder(clear=True, with_pip=True).create(ENV)
    except (subprocess.CalledProcessError, SystemExit, OSError):
        # a system Python without ensurepip: use its own pip from outside
        venv.EnvBuilder(clear=True, with_pip=False).create(ENV)
        return [sys.executable, "-m", "pip", "--python", str(PYTHON)]
    return [str(PYTHON), "-m", "pip"]


def _install_command() -> None:
    """Put the command ``platewright`` into the environment's bin, running this checkout."""
    found = subprocess.check_output(
        [str(PYTHON), "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"], text=True
    )
    (Path(found.strip()) / "platewright-checkout.pth").write_text(
        str(ROOT / "src") + "\n", encoding="utf-8"
    )
    if os.name == "nt":
        script = BIN / "platewright.cmd"
        script.write_text(f'@"{PYTHON}" -m platewright %*\r\n', encoding="utf-8")
        return
    script = BIN / "platewright"
    script.write_text(f'#!/bin/sh\nexec "{PYTHON}" -m platewright "$@"\n', encoding="utf-8")
    script.chmod(0o755)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
