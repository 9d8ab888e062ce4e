"""A hostile job folder is shown as what it is: words. Its page is run in tests/browser."""

from __future__ import annotations

from pathlib import Path

import pytest

from platewright.app.editing.session import Session
from platewright.foundation.errors import InputErrors

from .conftest import checked, copied, opened
from .hostile import SCRIPT, hostile_job


def test_markup_in_names_stays_words(tmp_path: Path) -> None:
    with opened(hostile_job(tmp_path / "harm")) as page:
        checked(page)
        for path in ("/api/job", "/api/wires", "/api/sheets", "/api/list/devices.csv"):
            answer = page.get(path)
            assert answer.headers["content-type"].startswith("application/json")
            assert answer.status_code == 200
        for sheet in page.get("/api/sheets").json()["sheets"]:
            for picture in page.get(f"/api/sheets/{sheet['id']}/pages").json():
                assert SCRIPT not in picture, "escaped in every picture"
                assert "<img" not in picture
        assert page.get("/").text.count("<script") == 2, "the page's own"


@pytest.mark.parametrize("name", ["layout.toml", "devices.csv", "edits.jsonl"])
def test_a_link_out_of_the_folder_is_refused(tmp_path: Path, name: str) -> None:
    folder = copied(tmp_path)
    outside = tmp_path / "outside"
    path = folder / name
    outside.write_bytes(path.read_bytes() if path.exists() else b"")
    path.unlink(missing_ok=True)
    path.symlink_to(outside)
    before = outside.read_bytes()
    with pytest.raises(InputErrors, match="link to a place outside"):
        Session(folder)
    assert outside.read_bytes() == before


def test_a_photo_that_is_a_link_is_not_written_through(tmp_path: Path) -> None:
    folder = copied(tmp_path)
    outside = tmp_path / "precious"
    outside.write_bytes(b"precious")
    (folder / "photo.jpg").symlink_to(outside)
    with opened(folder) as page:
        from .test_routes import picture

        answer = page.put("/api/photo", content=picture(), headers={"content-type": "image/jpeg"})
        assert answer.status_code == 422
        assert page.get("/api/photo").json()["size"] is None
    assert outside.read_bytes() == b"precious"


def test_a_history_written_by_hand_does_no_harm(tmp_path: Path) -> None:
    folder = copied(tmp_path)
    (folder / "edits.jsonl").write_text(
        '{"kind":"edit","label":"x","before":{},"files":{},"changes":{"devices":{"-Q1":'
        '{"was":{"x":"<script>","y":[],"locked":9},"is":{"x":90.0,"y":905.5,"locked":false},"at":0}}}}\n'
        'nonsense\n{"kind":"edit"}\n'
        '{"kind":"edit","label":"y","before":{},"files":{},"changes":{"devices":{"-Q1":'
        '{"was":{"x":"<script>","y":[],"locked":9},"is":{"x":90.0,"y":905.5,"locked":false},"at":0}}}}\n',
        encoding="utf-8",
    )
    with opened(folder) as page:
        answer = page.post("/api/undo", json={})
        assert answer.status_code == 409
        assert "can't be read" in answer.json()["problem"]
