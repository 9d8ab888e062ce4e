"""Kill a saving process again and again; the job must open each time with every told edit.

    python bench/killed_saves.py JOB KILLS [SEED]

Each kill: a child moves a device by 1 mm as fast as it can, each third step writes the number of
the step into job.toml instead, and each step is told once it is saved; after a random while the
child is killed without warning. Then the job is opened anew: device and job.toml must be as the
last told step left them, or one step further (saved, not yet told).
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import sys
import tempfile
import time
from pathlib import Path

from platewright.app.editing.edits import Move
from platewright.app.editing.session import Session
from platewright.app.editing.settings_form import with_cells
from platewright.jobfile.folder import SETTINGS
from platewright.jobfile.layout_file import FILE as LAYOUT
from platewright.jobfile.layout_file import layout_text

State = tuple[float, str]  # the device's place, the revision in job.toml
EACH = 3  # every so many steps is one of job.toml


def state_of(session: Session, tag: str) -> State:
    """Return what the steps change."""
    return session.layout.devices[tag].x, session.job.settings.job.revision


def after(state: State, step: int) -> State:
    """Return what a step must make of a state."""
    return (state[0], str(step)) if step % EACH == 1 else (state[0] + 1.0, state[1])


def saving(folder: Path, tag: str, tell: int) -> None:
    """Take step after step; tell each once it is saved."""
    session = Session(folder)
    os.write(tell, b"ready\n")
    step = 0
    while True:
        step += 1
        if step % EACH == 1:
            old = session.content(SETTINGS)
            session.change_file(SETTINGS, with_cells(old, {"job.revision": str(step)}, {}), "kill")
        else:
            session.apply(Move(tags=(tag,), dx=1.0, dy=0.0))
        os.write(tell, f"{step}\n".encode())


def one_kill(folder: Path, tag: str, wait: float) -> tuple[State, State, State, int]:
    """Return the last told state, the one after it, the one found anew, and the steps told."""
    told_state = state_of(Session(folder), tag)
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read)
        try:
            saving(folder, tag, write)
        finally:
            os._exit(1)
    os.close(write)
    with os.fdopen(read, "rb") as told:
        told.readline()
        time.sleep(wait)
        os.kill(child, signal.SIGKILL)
        lines = told.read().split()
    os.waitpid(child, 0)
    steps = int(lines[-1]) if lines else 0
    for step in range(1, steps + 1):
        told_state = after(told_state, step)
    return told_state, after(told_state, steps + 1), state_of(Session(folder), tag), steps


def killed(folder: Path, kills: int, seed: int) -> tuple[int, int, int]:
    """Return kills survived, kills between two told steps that had saved one more, steps told."""
    chance = random.Random(seed)
    layout = Session(folder).layout
    # without a person's comments saving is quick, so more kills meet one
    (folder / LAYOUT).write_text(layout_text(layout), encoding="utf-8")
    tag = min(layout.devices)
    more = steps = 0
    for _ in range(kills):
        last, further, found, told = one_kill(folder, tag, chance.uniform(0.0, 0.12))
        if found not in (last, further):
            raise AssertionError(f"told {last}, found {found}: an acknowledged edit is lost")
        more += found != last
        steps += told
    return kills, more, steps


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as parent:
        source = Path(sys.argv[1]).resolve()
        shutil.copytree(source.parent, Path(parent) / "jobs", ignore=shutil.ignore_patterns("out"))
        counts = killed(
            Path(parent) / "jobs" / source.name, int(sys.argv[2]), int((sys.argv[3:] or ["1"])[0])
        )
    print("survived {}, one step further {}, steps told {}".format(*counts))
