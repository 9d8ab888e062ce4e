"""Each address: what it answers, and its errors in the one shape."""

from __future__ import annotations

import io
import time
from pathlib import Path

import pytest
from PIL import Image
from starlette.testclient import TestClient

from platewright.app.editing.photo import CORNERS, PICTURE
from platewright.app.editing.session import Session
from platewright.app.live.checked import checked as work_out
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.model.finding import Finding
from platewright.model.panel import Panel
from platewright.rules.registry import rule_infos
from platewright.sheets.documents import documents

from .conftest import HOST, KEY, checked, edit

SHAPE = {"problem", "where", "cure"}


def x_in_file(folder: Path, tag: str) -> float:
    return read_layout(folder, read_job(folder)).devices[tag].x


def test_all_a_page_needs_to_begin(page: TestClient) -> None:
    checked(page)
    found = page.get("/api/job").json()
    assert found["job"]["title"]["title"].startswith("Bottle rinser")
    assert found["job"]["devices"]["-Q1"]["width"] == 105.0
    assert found["state"]["layout"]["devices"]["-Q1"] == {"x": 90.0, "y": 905.5, "locked": False}
    fails = [f for f in found["checked"]["findings"] if f["verdict"] == "FAIL"]
    assert len(fails) == found["checked"]["counts"]["FAIL"] > 0
    assert [f["number"] for f in found["checked"]["findings"]][:3] == [1, 2, 3]


def test_an_edit_is_saved_checked_and_undone(page: TestClient, folder: Path) -> None:
    answer = edit(page, do="move", tags=["-Q1"], dx=5, dy=0).json()
    assert answer["state"]["layout"]["devices"]["-Q1"]["x"] == 95.0
    assert x_in_file(folder, "-Q1") == 95.0
    assert checked(page, answer["state"]["revision"])["revision"] == answer["state"]["revision"]
    assert page.post("/api/undo", json={}).json()["state"]["redo"] == "move -Q1"
    assert x_in_file(folder, "-Q1") == 90.0
    assert page.post("/api/redo", json={}).json()["state"]["undo"] == "move -Q1"
    assert x_in_file(folder, "-Q1") == 95.0


@pytest.mark.parametrize(
    "body",
    [
        {"edit": {"do": "move", "tags": ["-Q1"], "dx": "far", "dy": 0}},
        {"edit": {"do": "fly", "tags": ["-Q1"]}},
        {"edit": {"do": "move", "tags": ["-Q1"], "dx": 1}},
        {"edit": {"do": "move", "tags": ["-Q1"], "dx": 1, "dy": 0, "more": 1}},
        {"nothing": 1},
        [],
    ],
)
def test_an_edit_that_is_none_is_said(page: TestClient, folder: Path, body: object) -> None:
    answer = page.post("/api/edit", json=body)
    assert answer.status_code == 422
    assert set(answer.json()) == SHAPE
    assert x_in_file(folder, "-Q1") == 90.0


@pytest.mark.parametrize("number", ["NaN", "Infinity", "1e999"])
def test_a_number_that_is_none_is_refused(page: TestClient, folder: Path, number: str) -> None:
    body = f'{{"edit":{{"do":"move","tags":["-Q1"],"dx":{number},"dy":0}}}}'
    answer = page.post("/api/edit", content=body, headers={"content-type": "application/json"})
    assert answer.status_code in (409, 422)
    assert set(answer.json()) == SHAPE
    assert x_in_file(folder, "-Q1") == 90.0


def test_an_edit_that_can_not_be_done_is_said(page: TestClient) -> None:
    answer = edit(page, do="move", tags=["-Q99"], dx=1, dy=0)
    assert answer.status_code == 409
    assert answer.json()["where"] == "-Q99"
    assert page.post("/api/redo", json={}).status_code == 409


def test_a_cure_is_tried_told_done_and_undone(page: TestClient) -> None:
    told = checked(page)
    one = next(
        f for f in told["findings"] if f["rule"] == "space.duct-overlap" and f["subject"] == "-K1"
    )
    asked = {"revision": told["revision"], "number": one["number"]}
    cure = page.post("/api/cure", json=asked).json()
    assert cure["words"] == "make D4 of 1x3"
    assert cure["fails"][1] < cure["fails"][0] == told["counts"]["FAIL"]
    answer = page.post("/api/cure/do", json=asked).json()
    assert answer["state"]["undo"] == "cure: make D4 of 1x3"
    after = checked(page, answer["state"]["revision"])
    assert after["counts"]["FAIL"] == cure["fails"][1]
    assert not [f for f in after["findings"] if f["rule"] == one["rule"] and f["subject"] == "-K1"]
    assert page.post("/api/cure/do", json=asked).status_code == 409, "the plate is another now"
    back = page.post("/api/undo", json={}).json()["state"]
    again = checked(page, back["revision"])["findings"]
    assert [f for f in again if f["rule"] == one["rule"] and f["subject"] == "-K1"]


def test_lists_are_read_and_saved_with_the_files_own_faults(page: TestClient, folder: Path) -> None:
    found = page.get("/api/list/devices.csv").json()
    rows = found["rows"]
    assert rows[0][:2] == ["tag", "part"]
    column = rows[0].index("function")
    row = next(i for i, r in enumerate(rows) if r[0] == "-F2")
    rows[row][column] = 'guards the "drive", well'
    saved = page.post("/api/list/devices.csv", json={"rows": rows, "hash": found["hash"]})
    assert saved.status_code == 200
    assert read_job(folder).devices["-F2"].function == 'guards the "drive", well'
    stale = page.post("/api/list/devices.csv", json={"rows": rows, "hash": found["hash"]})
    assert stale.status_code == 409
    rows[row][1] = "no-such-part"
    refused = page.post(
        "/api/list/devices.csv", json={"rows": rows, "hash": saved.json()["list"]["hash"]}
    )
    assert refused.status_code == 422
    fault = next(f for f in refused.json()["faults"] if f["field"] == "part")
    assert (fault["file"], fault["row"], fault["value"]) == ("devices.csv", row + 1, "no-such-part")
    assert read_job(folder).devices["-F2"].part == "fuse-3p-15a"


def test_a_part_edited_into_inches_is_one_fault_and_nothing_is_saved(
    page: TestClient, folder: Path
) -> None:
    shop = folder.parent / "bottle-rinser" / "parts.csv"
    (folder / "parts.csv").write_bytes(shop.read_bytes())
    found = page.get("/api/list/parts.csv").json()
    page.post("/api/list/parts.csv", json={"rows": found["rows"], "hash": found["hash"]})
    found = page.get("/api/list/parts.csv").json()
    rows, before = found["rows"], (folder / "parts.csv").read_bytes()
    row = next(i for i, r in enumerate(rows) if r[0] == "starter-10a")
    for name, inches in (("width_mm", "1.77"), ("height_mm", "4.33"), ("depth_mm", "3.62")):
        rows[row][rows[0].index(name)] = inches
    refused = page.post("/api/list/parts.csv", json={"rows": rows, "hash": found["hash"]})
    assert refused.status_code == 422
    (fault,) = refused.json()["faults"]
    assert (fault["file"], fault["row"]) == ("parts.csv", row + 1)
    assert fault["field"] == "width_mm, height_mm, depth_mm"
    assert "If these are inches" in fault["cure"]
    assert (folder / "parts.csv").read_bytes() == before


def test_wires_and_evidence(page: TestClient) -> None:
    totals = checked(page)["totals"]
    wires = page.get("/api/wires").json()
    assert sum(w["cut"] for w in wires) == pytest.approx(1000 * totals["wire_m"], abs=10)
    known = {info.id for info in rule_infos()}
    assert {f["rule"] for f in page.get("/api/passed").json()} <= known


def panel_of_folder(folder: Path) -> tuple[Panel, tuple[Finding, ...]]:
    done = work_out(Session(folder).snapshot())
    return done.panel, done.findings


def test_sheets_to_look_at_and_to_take_away(page: TestClient, folder: Path) -> None:
    checked(page)
    found = page.get("/api/sheets").json()
    assert "layout" in {s["id"] for s in found["sheets"]}
    pages = page.get("/api/sheets/layout/pages").json()
    assert pages[0].startswith("<?xml")
    for name, head in (("holes.pdf", b"%PDF"), ("layout.dxf", b"  0"), ("devices.csv", b"")):
        answer = page.get(f"/api/sheets/file/{name}")
        assert answer.status_code == 200
        assert answer.content.startswith(head)
        assert "attachment" in answer.headers["content-disposition"]
    whole = documents(*panel_of_folder(folder))
    one_of_each = {name.rpartition(".")[2]: name for name in sorted(whole) if name[-3:] != "svg"}
    for name in one_of_each.values():
        assert page.get(f"/api/sheets/file/{name}").content == whole[name], (
            "alone as in the package"
        )


def picture(width: int = 400, height: int = 600, kind: str = "JPEG") -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (width, height), (120, 130, 140)).save(out, kind)
    return out.getvalue()


def test_a_photo_is_kept_straightened_and_taken_out(page: TestClient, folder: Path) -> None:
    jpeg = {"content-type": "image/jpeg"}
    assert page.put("/api/photo", content=b"no picture", headers=jpeg).status_code == 422
    assert page.put(
        "/api/photo", content=picture(kind="PNG"), headers={"content-type": "image/png"}
    ).json()["size"] == [400, 600]
    assert page.get("/api/photo/straight").status_code == 409
    corners = [[50, 560], [350, 560], [350, 100], [50, 100]]
    fit = page.post("/api/photo/corners", json={"corners": corners}).json()["fit"]
    # 300 by 460 pixels of a plate of 750 by 1150 mm: 2.5 mm a pixel, and true to shape
    assert fit["mm_per_pixel"] == pytest.approx(2.5)
    assert fit["shape_error"] == pytest.approx(0.0, abs=1e-9)
    with Image.open(io.BytesIO(page.get("/api/photo/straight").content)) as flat:
        assert flat.size == (1500, 2300)
    crossed = [corners[0], corners[2], corners[1], corners[3]]
    assert page.post("/api/photo/corners", json={"corners": crossed}).status_code == 422
    assert page.post("/api/photo/corners", json={"corners": corners[:3]}).status_code == 422
    assert {PICTURE, CORNERS} <= {p.name for p in folder.iterdir()}
    page.request("DELETE", "/api/photo", headers=jpeg)
    assert not {PICTURE, CORNERS} & {p.name for p in folder.iterdir()}


def test_two_pages_hear_of_each_other(page: TestClient) -> None:
    origin = {"origin": f"http://{HOST}"}
    with page.websocket_connect(f"ws://{HOST}/live", headers=origin) as socket:
        socket.send_json({"key": KEY})
        edit(page, do="move", tags=["-Q1"], dx=5, dy=0)
        heard = {}
        while {"state", "checked"} - set(heard):
            message = socket.receive_json()
            heard[message["type"]] = message
        assert heard["state"]["state"]["layout"]["devices"]["-Q1"]["x"] == 95.0


def test_a_drag_is_followed(page: TestClient) -> None:
    checked(page)
    with page.websocket_connect(
        f"ws://{HOST}/live", headers={"origin": f"http://{HOST}"}
    ) as socket:
        socket.send_json({"key": KEY})
        for n, x in enumerate((210.0, 195.0), start=1):
            socket.send_json({"type": "drag", "n": n, "tags": ["-X4"], "at": [[x, 936.0]]})
        answers = {}
        while len(answers) < 2:
            message = socket.receive_json()
            if message["type"] == "live":
                answers[message["n"]] = message["live"]
        gap = next(g for g in answers[1]["gaps"] if g["side"] == "left")
        assert (gap["other"], gap["distance"]) == ("-Q1", 12.0)
        assert answers[2]["clashes"]
        assert answers[2]["wires"]["cut"] > 0
        for wrong in ("[]", "{}", '{"type":"drag","n":1,"tags":["-X4"],"at":[[1]]}', "not json"):
            socket.send_text(wrong)
            while (message := socket.receive_json())["type"] != "trouble":
                pass
            assert set(message) >= SHAPE
        socket.send_json({"type": "drag", "n": 9, "tags": ["-X99"], "at": [[1.0, 2.0]]})
        while (message := socket.receive_json())["type"] != "live":
            pass
        assert message["live"] is None


def test_a_plan_is_offered_taken_and_undone(page: TestClient, folder: Path) -> None:
    before = (folder / "layout.toml").read_bytes()
    checked(page)
    assert page.post("/api/plan", json={"how": "anew"}).json() == {"started": True}
    assert page.post("/api/plan", json={"how": "anew"}).status_code == 409
    for _ in range(1500):
        plan = page.get("/api/job").json()["plan"]
        if plan and (plan["best"] or plan["ended"]):
            break
        time.sleep(0.02)
    assert plan["best"]["counts"]["FAIL"] == 0, plan["problem"]
    assert (folder / "layout.toml").read_bytes() == before, "nothing is written before it is taken"
    taken = page.post("/api/plan/take", json={}).json()
    assert taken["state"]["undo"] == "plan (anew)"
    assert page.get("/api/job").json()["plan"] is None
    page.post("/api/undo", json={})
    assert Session(folder).layout == read_layout(folder, read_job(folder))
    assert x_in_file(folder, "-Q1") == 90.0


def test_a_change_from_outside_reaches_the_page(page: TestClient, folder: Path) -> None:
    text = (folder / "layout.toml").read_text(encoding="utf-8")
    (folder / "layout.toml").write_text(
        text.replace("x_mm = 210.0", "x_mm = 222.0"), encoding="utf-8"
    )
    for _ in range(200):
        state = page.get("/api/job").json()["state"]
        if state["notices"]:
            break
        time.sleep(0.02)
    assert state["layout"]["devices"]["-X4"]["x"] == 222.0
    assert "layout.toml" in state["notices"][0]
    assert page.post("/api/read-notices", json={}).json()["state"]["notices"] == []


def test_a_faulty_file_from_outside_is_asked_about(page: TestClient, folder: Path) -> None:
    good = (folder / "layout.toml").read_bytes()
    (folder / "layout.toml").write_bytes(good + b"\nnonsense\n")
    answer = edit(page, do="move", tags=["-Q1"], dx=5, dy=0)
    assert answer.status_code == 409
    assert answer.json()["where"] == "layout.toml"
    kept = page.post("/api/put-back", json={}).json()
    assert "layout.outside-1.toml" in kept["notes"][0]
    assert (folder / "layout.toml").read_bytes() == good
    assert (folder / "layout.outside-1.toml").read_bytes().endswith(b"nonsense\n")
