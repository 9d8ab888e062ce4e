"""``job.toml`` edited in the page: saved, undone after a new start, refused with the file's faults."""

from __future__ import annotations

from pathlib import Path

from starlette.testclient import TestClient

from .conftest import opened


def saved(page: TestClient, **what: object) -> object:
    hash_ = page.get("/api/settings").json()["hash"]
    return page.post("/api/settings", json={"hash": hash_, **what})


def test_a_setting_is_saved_told_and_undone_after_a_new_start(folder: Path) -> None:
    before = (folder / "job.toml").read_bytes()
    with opened(folder) as page:
        answer = saved(page, cells={"plate.width_mm": "745"})
        assert answer.status_code == 200
        assert answer.json()["state"]["undo"] == "edit job.toml: plate.width_mm"
        assert page.get("/api/job").json()["job"]["plate"]["width"] == 745.0
    assert (folder / "job.toml").read_bytes() != before
    with opened(folder) as page:
        page.post("/api/undo", json={})
        assert (folder / "job.toml").read_bytes() == before
        assert page.get("/api/job").json()["job"]["plate"]["width"] == 750.0
        page.post("/api/redo", json={})
        assert page.get("/api/job").json()["job"]["plate"]["width"] == 745.0


def test_faults_are_those_of_the_file_and_nothing_is_saved(page: TestClient, folder: Path) -> None:
    before = (folder / "job.toml").read_bytes()
    answer = saved(page, cells={"plate.width_mm": "wide", "job.date": "soon", "units": "cubits"})
    assert answer.status_code == 422
    faults = [f for f in answer.json()["faults"] if f["file"] == "job.toml"]
    assert {"plate.width_mm", "units"} <= {f["field"] for f in faults}
    assert all(f["problem"] and f["cure"] for f in faults)
    assert (folder / "job.toml").read_bytes() == before


def test_a_group_in_use_is_not_taken_out(page: TestClient, folder: Path) -> None:
    before = (folder / "job.toml").read_bytes()
    answer = saved(page, lists={"groups": [{"was": 1, "cells": {}}]})
    assert answer.status_code == 422
    assert {f["file"] for f in answer.json()["faults"]} <= {"devices.csv", "wires.csv"}
    assert (folder / "job.toml").read_bytes() == before


def test_as_text_with_its_line(page: TestClient, folder: Path) -> None:
    found = page.get("/api/settings").json()
    text = found["text"].replace("width_mm = 750", "width_mm = 740", 1)
    assert saved(page, text=text).status_code == 200
    assert b"width_mm = 740" in (folder / "job.toml").read_bytes()
    bad = saved(page, text=text.replace("[plate]", "[plate")).json()["faults"]
    assert bad[0]["row"] == text.split("\n").index("[plate]") + 1


def test_a_stale_form_and_an_unknown_key_are_refused(page: TestClient) -> None:
    stale = page.get("/api/settings").json()["hash"]
    assert saved(page, cells={"job.revision": "B"}).status_code == 200
    answer = page.post("/api/settings", json={"hash": stale, "cells": {"job.revision": "C"}})
    assert answer.status_code == 409
    assert "was changed since" in answer.json()["problem"]
    assert saved(page, cells={"job.colour": "red"}).status_code == 409
