"""Kill a saving process again and again; the job must open each time with every told edit.

    python bench/killed_saves.py JOB KILLS [SEED]

Each kill: a child moves a device by 1 mm as fast as it can and tells each step once it is saved;
after a random while it is killed without warning. Then the job is opened anew: the device must
stand where the last told step put it, or one step further (saved, not yet told).
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

from platewright.app.edits import Move
from platewright.app.session import Session
from platewright.jobfile.layout_file import FILE as LAYOUT
from platewright.jobfile.layout_file import layout_text


def saving(folder: Path, tag: str, tell: int) -> None:
    """Move the device step by step; tell its place after each save."""
    session = Session(folder)
    os.write(tell, b"ready\n")
    while True:
        session.apply(Move(tags=(tag,), dx=1.0, dy=0.0))
        os.write(tell, f"{session.layout.devices[tag].x}\n".encode())


def one_kill(folder: Path, tag: str, wait: float) -> tuple[float, float, int]:
    """Return the last told place, the place found on opening anew, and the steps told."""
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
        before = Session(folder).layout.devices[tag].x
        time.sleep(wait)
        os.kill(child, signal.SIGKILL)
        lines = told.read().split()
    os.waitpid(child, 0)
    last = float(lines[-1]) if lines else before
    found = Session(folder).layout.devices[tag].x
    return max(last, before), found, len(lines)


def killed(folder: Path, kills: int, seed: int) -> tuple[int, int, int]:
    """Return kills survived, kills between two told steps that had saved one more, steps told."""
    chance = random.Random(seed)
    layout = Session(folder).layout
    # without a person's comments saving is quick, so more kills meet one
    (folder / LAYOUT).write_text(layout_text(layout), encoding="utf-8")
    tag = min(layout.devices)
    more = steps = 0
    for _ in range(kills):
        last, found, told = one_kill(folder, tag, chance.uniform(0.0, 0.03))
        if not last <= found <= last + 1.0:
            raise AssertionError(f"told {last}, found {found}: an acknowledged edit is lost")
        more += found > last
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
