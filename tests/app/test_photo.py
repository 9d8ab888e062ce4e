"""Straightening held to a pinhole camera: an independent way from plate to picture.

The camera's picture of a plate point is worked out by rotation, translation and division by
depth (any textbook of computer vision, e.g. Hartley & Zisserman, Multiple View Geometry, 2nd
ed., section 6.1); what comes back from the picture must be the plate's own millimetres.
"""

from __future__ import annotations

import io
import json
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageDraw

from platewright.app.editing import photo
from platewright.app.editing.photo import fit_of, mapped, plane_map, seen_shape
from platewright.foundation.errors import InputErrors
from platewright.model.job import Plate

PLATE = Plate(width=750.0, height=1150.0, thickness=2.0)
SIZE = (3000, 4000)


def camera(
    points: np.ndarray, *, tilt: float, turn: float, away: float, focal: float
) -> np.ndarray:
    """Return where a pinhole camera sees plate points (mm) in its picture (pixels, y down)."""
    a, b = math.radians(tilt), math.radians(turn)
    about_x = np.array([[1, 0, 0], [0, math.cos(a), -math.sin(a)], [0, math.sin(a), math.cos(a)]])
    about_y = np.array([[math.cos(b), 0, math.sin(b)], [0, 1, 0], [-math.sin(b), 0, math.cos(b)]])
    middle = np.array([PLATE.width / 2, PLATE.height / 2])
    flat = np.column_stack([points - middle, np.zeros(len(points))]) * [1, -1, 1]
    seen = flat @ about_x.T @ about_y.T + [0, 0, away]
    return seen[:, :2] / seen[:, 2:] * focal + np.array(SIZE) / 2


CORNERS = np.array([(0, 0), (750, 0), (750, 1150), (0, 1150)], dtype=float)


@given(
    tilt=st.floats(-35, 35), turn=st.floats(-35, 35), away=st.floats(1800, 4000),
    inside=st.lists(st.tuples(st.floats(0, 750), st.floats(0, 1150)), min_size=1, max_size=8),
)  # fmt: skip
def test_what_the_camera_sees_comes_back_in_millimetres(
    tilt: float, turn: float, away: float, inside: list[tuple[float, float]]
) -> None:
    pose = {"tilt": tilt, "turn": turn, "away": away, "focal": 3000.0}
    matrix = plane_map(camera(CORNERS, **pose), CORNERS)
    points = np.array(inside)
    assert np.abs(mapped(matrix, camera(points, **pose)) - points).max() < 1e-3


@pytest.mark.parametrize(("tilt", "turn"), [(25, 0), (0, -20), (18, 14), (-30, 22), (0.0, 0.0)])
def test_the_shape_is_told_from_the_picture_alone(tilt: float, turn: float) -> None:
    seen = camera(CORNERS, tilt=tilt, turn=turn, away=2500, focal=3000.0)
    shape = seen_shape(seen, SIZE)
    known = pytest.approx(750 / 1150, rel=1e-6)
    # turned about one axis only, one pair of sides stays parallel: no focal length to be had
    assert shape == known or (shape is None and 0 in (tilt, turn))


def test_wrong_corners_are_seen_in_the_shape() -> None:
    seen = camera(CORNERS, tilt=18, turn=14, away=2500, focal=3000.0)
    seen[1] += [60.0, 0.0]
    fit = fit_of(tuple(map(tuple, seen.tolist())), PLATE, SIZE)
    assert fit.off is not None
    assert fit.off > 10


def test_a_mark_on_the_plate_lies_where_it_is(tmp_path: Path) -> None:
    pose = {"tilt": 15.0, "turn": -12.0, "away": 2600.0, "focal": 3000.0}
    marks = np.array([(100.0, 900.0), (600.0, 200.0)])
    image = Image.new("RGB", SIZE, (200, 200, 200))
    for x, y in camera(marks, **pose):
        ImageDraw.Draw(image).ellipse((x - 12, y - 12, x + 12, y + 12), fill=(0, 0, 0))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=95)
    assert photo.keep_picture(tmp_path, out.getvalue()) == SIZE
    photo.keep_corners(tmp_path, tuple(map(tuple, camera(CORNERS, **pose).tolist())), PLATE)
    flat = photo.straightened(tmp_path, PLATE)
    assert flat is not None
    with Image.open(io.BytesIO(flat)) as found:
        dark = np.argwhere(np.asarray(found.convert("L")) < 90).astype(float)
        scale = found.width / PLATE.width
    at = np.column_stack([dark[:, 1] / scale, PLATE.height - dark[:, 0] / scale])
    for mark in marks:
        near = at[np.hypot(*(at - mark).T) < 40]
        assert np.abs(near.mean(axis=0) - mark).max() < 1.0, "within a millimetre"


def test_a_picture_is_stood_upright_and_its_hidden_data_left_out(tmp_path: Path) -> None:
    image = Image.new("RGB", (60, 40))
    exif = Image.Exif()
    exif[0x0112] = 6  # turned by the phone
    exif[0x010F] = "maker"
    out = io.BytesIO()
    image.save(out, "JPEG", exif=exif)
    assert photo.keep_picture(tmp_path, out.getvalue()) == (40, 60)
    with Image.open(tmp_path / photo.PICTURE) as kept:
        assert not dict(kept.getexif())


@pytest.mark.parametrize("content", [b"", b"GIF89a", b"\x89PNG\r\n\x1a\n", b"<svg/>"])
def test_what_is_no_picture_is_refused(tmp_path: Path, content: bytes) -> None:
    with pytest.raises(InputErrors, match="no JPEG or PNG"):
        photo.keep_picture(tmp_path, content)
    assert not list(tmp_path.iterdir())


def test_a_huge_picture_is_refused_before_it_is_unpacked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(photo, "MOST_PIXELS", 1000)
    out = io.BytesIO()
    Image.new("L", (50, 50)).save(out, "PNG")
    with pytest.raises(InputErrors, match="too many pixels"):
        photo.keep_picture(tmp_path, out.getvalue())


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        '{"corners": [[1, 2]]}',
        '{"corners": [[1,2],[3,4],[5,6],[7,NaN]]}',
        '{"corners": 3}',
    ],
)
def test_broken_corners_count_as_none(tmp_path: Path, text: str) -> None:
    (tmp_path / photo.CORNERS).write_text(text, encoding="utf-8")
    assert photo.kept_corners(tmp_path) is None
    (tmp_path / photo.CORNERS).write_text(
        json.dumps({"corners": CORNERS.tolist()}), encoding="utf-8"
    )
    assert photo.kept_corners(tmp_path) == tuple(map(tuple, CORNERS.tolist()))
