"""Each rule of the guard, tried by what it must keep out and what it must let in."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from platewright import web
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.web.guard import IMAGE_LIMIT, JSON_LIMIT

from .conftest import HOST, KEY, PORT, copied, opened

MOVE = {"edit": {"do": "move", "tags": ["-Q1"], "dx": 5, "dy": 0}}
SHAPE = {"problem", "where", "cure"}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return copied(tmp_path_factory.mktemp("guard"))


@pytest.fixture(scope="module")
def page(folder: Path) -> Iterator[TestClient]:
    """One server for all: nothing here may change anything."""
    with opened(folder) as client:
        yield client


def stands_still(folder: Path) -> bool:
    return read_layout(folder, read_job(folder)).devices["-Q1"].x == 90.0


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1", f"127.0.0.1:{PORT + 1}", "", f"evil.example:{PORT}"]
)
def test_a_foreign_host_is_refused(page: TestClient, host: str) -> None:
    answer = page.get("/api/job", headers={"host": host})
    assert answer.status_code == 403
    assert set(answer.json()) == SHAPE


@pytest.mark.parametrize("host", [HOST, f"localhost:{PORT}", f"[::1]:{PORT}"])
def test_this_machine_is_let_in(page: TestClient, host: str) -> None:
    assert page.get("/api/job", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", f"http://127.0.0.1:{PORT + 1}", f"https://{HOST}"]
)
def test_a_foreign_origin_changes_nothing(page: TestClient, folder: Path, origin: str) -> None:
    answer = page.post("/api/edit", json=MOVE, headers={"origin": origin})
    assert answer.status_code == 403
    assert stands_still(folder)


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_other_pages_of_the_browser_are_refused(page: TestClient, site: str) -> None:
    assert page.get("/api/job", headers={"sec-fetch-site": site}).status_code == 403


@pytest.mark.parametrize(
    "path",
    [
        "job",
        "hello",
        "wires",
        "passed",
        "photo",
        "photo/compare",
        "settings",
        "sheets",
        "list/devices.csv",
        "sheets/file/package.pdf",
    ],
)
@pytest.mark.parametrize("key", ["", "wrong", KEY[:-1], KEY + "x"])
def test_nothing_is_told_without_the_key(page: TestClient, path: str, key: str) -> None:
    answer = page.get(f"/api/{path}", headers={"X-Platewright-Key": key})
    assert answer.status_code == 401
    assert set(answer.json()) == SHAPE


@pytest.mark.parametrize(
    "path",
    [
        "edit",
        "undo",
        "redo",
        "put-back",
        "plan",
        "plan/take",
        "plan/compare",
        "cure",
        "cure/do",
        "settings",
        "list/devices.csv",
        "photo/corners",
        "photo/checks",
        "photo/seen",
        "photo/take-over",
    ],
)
def test_nothing_is_changed_without_the_key(page: TestClient, folder: Path, path: str) -> None:
    answer = page.post(f"/api/{path}", json=MOVE, headers={"X-Platewright-Key": "wrong"})
    assert answer.status_code == 401
    assert stands_still(folder)


def test_every_address_is_behind_the_key(page: TestClient) -> None:
    """Whatever is added later: no route of the server answers without the key."""
    found = [
        (method, route.path)
        for module in pkgutil.iter_modules(web.__path__)
        if module.name.startswith("routes")
        for route in importlib.import_module(f"platewright.web.{module.name}").router.routes
        for method in sorted(route.methods)
    ]
    assert len(found) > 25
    for method, path in found:
        address = path.replace("{name}", "x")
        answer = page.request(method, address, headers={"X-Platewright-Key": "wrong"})
        assert answer.status_code == 401, f"{method} {path}"


@pytest.mark.parametrize(
    "kind", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data", ""]
)
def test_only_json_changes_anything(page: TestClient, folder: Path, kind: str) -> None:
    body = b'{"edit":{"do":"move","tags":["-Q1"],"dx":5,"dy":0}}'
    answer = page.post("/api/edit", content=body, headers={"content-type": kind})
    assert answer.status_code == 415
    assert stands_still(folder)


def test_a_body_is_bounded_while_it_is_read(page: TestClient) -> None:
    answer = page.post(
        "/api/edit", content=b"[" + b" " * JSON_LIMIT, headers={"content-type": "application/json"}
    )
    assert answer.status_code == 413
    assert set(answer.json()) == SHAPE
    big = page.put(
        "/api/photo", content=b"x" * (IMAGE_LIMIT + 1), headers={"content-type": "image/jpeg"}
    )
    assert big.status_code == 413


@pytest.mark.parametrize(
    "path",
    [
        "/../job.toml", "/%2e%2e/job.toml", "/..%2fjob.toml", "/static/../../job.toml", "/%2e%2e%2f%2e%2e%2fetc/passwd",
        "/..\\job.toml", "//etc/passwd", "/main.js/../../server.py", "/server.py", "/job.toml",
    ],
)  # fmt: skip
def test_no_path_leaves_the_page(page: TestClient, path: str) -> None:
    answer = page.get(path)
    assert answer.status_code == 404
    assert b"root:" not in answer.content


@pytest.mark.parametrize(
    "name", ["..%2f..%2fjob.toml", "job.toml", "layout.toml", "edits.jsonl", "%2e%2e", "a%00b"]
)
def test_no_list_or_sheet_leaves_the_job(page: TestClient, name: str) -> None:
    for path in (f"/api/list/{name}", f"/api/sheets/{name}/pages", f"/api/sheets/file/{name}"):
        answer = page.get(path)
        assert answer.status_code in (404, 409), path
        assert set(answer.json()) == SHAPE


def test_answers_forbid_foreign_content(page: TestClient) -> None:
    for path in ("/", "/main.js", "/api/job", "/nowhere"):
        headers = page.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'self'" in policy
        assert "frame-ancestors 'none'" in policy
        assert "unsafe" not in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "no-referrer"
        assert "access-control-allow-origin" not in headers


def test_the_live_channel_wants_origin_and_key(page: TestClient) -> None:
    for origin in (None, "http://evil.example"):
        headers = {"origin": origin} if origin else {}
        with (
            pytest.raises(WebSocketDisconnect),
            page.websocket_connect(f"ws://{HOST}/live", headers=headers),
        ):
            pass
    with page.websocket_connect(
        f"ws://{HOST}/live", headers={"origin": f"http://{HOST}"}
    ) as socket:
        socket.send_json({"key": "wrong"})
        with pytest.raises(WebSocketDisconnect):
            socket.receive_json()


def test_no_page_describes_the_server(page: TestClient) -> None:
    for path in ("/docs", "/redoc", "/openapi.json"):
        assert page.get(path).status_code == 404
