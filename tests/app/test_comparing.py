"""The presets compared while the page looks on: plates, what each is worth, stopped at any time."""

from __future__ import annotations

from pathlib import Path

import pytest

from platewright.app.beside import comparing
from platewright.app.beside.comparing import Compared, Comparing
from platewright.app.beside.planning import candidate_of
from platewright.app.editing.session import Session
from platewright.app.live.checked import checked
from platewright.tables.presets import preset_names


def compared(folder: Path, monkeypatch: pytest.MonkeyPatch, *, stop: bool) -> list[Compared]:
    monkeypatch.setattr(comparing, "MOVES", 2_000)
    now = Session(folder).snapshot()
    told: list[Compared] = []
    work = Comparing(now, candidate_of(checked(now).panel), seed=1, tell=told.append)
    if stop:
        work.stop()
    work.start()
    work.join(120)
    assert not work.is_running
    assert [one.ended for one in told].count(True) == 1
    return told


def test_every_preset_beside_the_plate_that_stands(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    last = compared(folder, monkeypatch, stop=False)[-1]
    names = [plate.name for plate in last.plates]
    assert names[0] == "as it stands"
    assert {*preset_names()} <= {*names, *(last.failed or {})}
    assert last.plates[0].fails > 0
    for line in last.lines:
        assert len(line.values) == len(line.best) == len(names)
        marked = {v for v, best in zip(line.values, line.best, strict=True) if best}
        known = [float(v) for v in line.values if v != "–"]
        assert all(float(v) == min(known) for v in marked), line.words


def test_a_stop_ends_it_with_the_plates_it_has(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    last = compared(folder, monkeypatch, stop=True)[-1]
    assert last.ended
    assert any("stopped" in why for why in (last.failed or {}).values())
