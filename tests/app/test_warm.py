"""After set-up has compiled the kernels, no command compiles any; without it, it still answers."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "examples"
TOUCHED = """
import gc, json
from platewright.foundation.compiled import Kernel
kernels = [k for k in gc.get_objects() if isinstance(k, Kernel)]
print(json.dumps([[k.__module__ + "." + k.__name__, s] for k in kernels for s in k.signatures]))
"""
WARM = "from platewright.app.plans.warm import compile_all\ncompile_all()\n" + TOUCHED
COMMANDS = """
import contextlib, io, sys
from platewright.cli.main import run
for words in (["plan", sys.argv[1], "--iterations", "2000", *sys.argv[2:]], ["check", sys.argv[1]],
              ["heat", sys.argv[1]], ["sheets", sys.argv[1]]):
    with contextlib.redirect_stdout(io.StringIO()):
        assert run(words) in (0, 1), words
"""
# a large plate's PDF takes half of the time and no kernel that the small one's, written, does not
NO_PDF = """
from platewright.drawing import pdf, png  # the heat picture of one page is still made by it
pdf.write_pdf = lambda *_pictures, **_titles: b""
"""
# the compiling process never comes to an end; it ends itself when who started it is gone
NEVER = "import os, time\nparent = os.getppid()\nwhile os.getppid() == parent: time.sleep(0.2)\n"
COMMAND = """
import sys
from platewright.cli.main import run
from platewright.foundation.at_once import answer_at_once
answer_at_once({module})
sys.exit(run(sys.argv[1:]))
"""


def ran(script: str, *words: str, path: str = str(ROOT / "src")) -> str:
    """Run a script in a Python of its own; return the last line it printed."""
    done = subprocess.run(
        [sys.executable, "-c", script, *words], capture_output=True, text=True, check=False,
        env=dict(os.environ, PYTHONPATH=path),
    )  # fmt: skip
    assert done.returncode in (0, 1), done.stderr
    return done.stdout.strip().splitlines()[-1]


@pytest.fixture(scope="module")
def warm() -> set[tuple[str, str]]:
    return {tuple(one) for one in json.loads(ran(WARM))}


@pytest.mark.slow
@pytest.mark.parametrize(
    ("example", "words", "before"),
    [("bottle-rinser", ["--explain"], ""), ("packaging-line", [], NO_PDF)],
    ids=["bottle-rinser", "packaging-line"],
)
def test_what_commands_run_was_compiled_in_set_up(
    example: str, words: list[str], before: str, tmp_path: Path, warm: set[tuple[str, str]]
) -> None:
    job = tmp_path / example
    shutil.copytree(EXAMPLES / example, job)
    used = {tuple(one) for one in json.loads(ran(before + COMMANDS + TOUCHED, str(job), *words))}
    assert used, "some kernels run"
    assert used - warm == set()


@pytest.mark.slow
def test_a_plan_that_finds_nothing_compiled_writes_the_same_bytes(tmp_path: Path) -> None:
    package = tmp_path / "src"
    shutil.copytree(ROOT / "src", package, ignore=shutil.ignore_patterns("__pycache__"))
    (package / "never_done.py").write_text(NEVER)
    cold, warm = tmp_path / "cold", tmp_path / "warm"
    for job in (cold, warm):
        shutil.copytree(EXAMPLES / "bottle-rinser", job)
        (job / "layout.toml").unlink(missing_ok=True)
    words = ("--iterations", "1500")
    ran(COMMAND.format(module='"never_done"'), "plan", str(cold), *words, path=str(package))
    assert not list(package.rglob("*.nbi")), "nothing was compiled"
    ran(COMMAND.format(module=None), "plan", str(warm), *words)
    assert (cold / "layout.toml").read_bytes() == (warm / "layout.toml").read_bytes()
