"""Heat over the wire: the judged numbers, exact after a check, followed while the hand moves."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from starlette.testclient import TestClient

from platewright.app.gather import panel_of
from platewright.heat.panel_heat import heat_of
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.model.heat import PanelHeat

from .conftest import HOST, KEY, checked, edit

ORIGIN = {"origin": f"http://{HOST}", "host": HOST}


def judged(folder: Any) -> PanelHeat:
    job = read_job(folder)
    return heat_of(panel_of(job, read_layout(folder, job)))


def told_as(heat: PanelHeat) -> dict[str, list[float]]:
    return {
        tag: [
            round(number, 5)
            for value in (one.air, one.surface)
            for number in (value.value, value.band)
        ]
        for tag, one in heat.devices.items()
    }


def test_the_page_gets_the_judged_numbers(page: TestClient, folder: Any) -> None:
    checked(page)
    told, heat = page.get("/api/heat").json(), judged(folder)
    assert told["devices"] == told_as(heat)
    assert told["sum"] == pytest.approx(235.5)
    assert told["parts"] == heat.losses.parts
    assert {row["tag"] for row in told["rows"]} >= set(heat.devices)
    row = next(row for row in told["rows"] if row["tag"] == "-T1")
    assert row == {
        "tag": "-T1", "what": "control transformer 1 kVA 480/120 V", "heat": 70.0, "limit": 40.0
    }  # fmt: skip
    duct = told["ducts"]["D7"]
    facing = heat.ducts["D7"]
    assert duct == [
        round(facing.temperature.value, 5), round(facing.temperature.band, 5), facing.limit, "-T1"
    ]  # fmt: skip
    for name in ("front", "side", "plate"):
        field = getattr(heat, name)
        values = np.array(told[name]["values"]).reshape(-1, told[name]["columns"]) / 10
        assert values.shape == field.values.shape
        assert np.abs(values - field.values).max() <= 0.051
        assert told[name]["box"] == pytest.approx(
            [field.area.left, field.area.bottom, field.area.right, field.area.top]
        )
    for view, low in (("air", heat.front.values.min()), ("surfaces", heat.plate.values.min())):
        assert told["scales"][view]["low"] <= low
    assert len(told["colours"]) == 9
    assert told["level"]["by_walls"] == round(heat.level.by_walls, 1)


def test_it_is_new_after_a_move(page: TestClient, folder: Any) -> None:
    revision = checked(page)["revision"]
    before = page.get("/api/heat").json()
    assert before["revision"] == revision
    assert edit(page, do="move", tags=["-T1"], dx=-60.0, dy=30.0).status_code == 200
    checked(page, revision + 1)
    after = page.get("/api/heat").json()
    assert after["revision"] == revision + 1
    assert after["devices"] != before["devices"]
    assert after["devices"] == told_as(judged(folder))


def test_heat_follows_the_hand_where_it_is_asked_for(page: TestClient, folder: Any) -> None:
    checked(page)
    at = read_layout(folder, read_job(folder)).devices["-T1"]
    with page.websocket_connect(f"ws://{HOST}/live", headers=ORIGIN) as socket:
        socket.send_json({"key": KEY})
        spot = [round(at.x - 60.0, 1), round(at.y + 30.0, 1)]
        for view in ("air", "surfaces"):
            drag = {"type": "drag", "n": 3, "tags": ["-T1"], "at": [spot], "heat": view}
            socket.send_json(drag)
            live, warm = socket.receive_json(), socket.receive_json()
            assert (live["type"], warm["type"], warm["n"]) == ("live", "warm", 3)
            assert ("front" in warm["heat"], "plate" in warm["heat"]) == (
                view == "air",
                view == "surfaces",
            )
    edit(page, do="move", tags=["-T1"], dx=-60.0, dy=30.0)
    assert warm["heat"]["devices"] == told_as(judged(folder)), "let go, it is the same"


def test_of_many_places_the_last_is_answered_and_not_all(page: TestClient) -> None:
    checked(page)
    with page.websocket_connect(f"ws://{HOST}/live", headers=ORIGIN) as socket:
        socket.send_json({"key": KEY})
        for n in range(1, 31):
            drag = {"type": "drag", "n": n, "tags": ["-T1"], "at": [[300.0 + n, 400.0]]}
            socket.send_json({**drag, "heat": "air"})
        warm = []
        while not warm or warm[-1] < 30:
            news = socket.receive_json()
            if news["type"] == "warm":
                warm.append(news["n"])
    assert warm == sorted(set(warm))
    assert len(warm) < 30


def test_what_is_no_view_is_not_understood(page: TestClient) -> None:
    checked(page)
    with page.websocket_connect(f"ws://{HOST}/live", headers=ORIGIN) as socket:
        socket.send_json({"key": KEY})
        drag = {"type": "drag", "n": 1, "tags": ["-T1"], "at": [[1.0, 2.0]], "heat": "x-ray"}
        socket.send_json(drag)
        assert socket.receive_json()["type"] == "trouble"
        unknown = {"type": "drag", "n": 2, "tags": ["-X99"], "at": [[1.0, 2.0]], "heat": "air"}
        socket.send_json(unknown)
        assert socket.receive_json() == {"type": "live", "n": 2, "live": None}
