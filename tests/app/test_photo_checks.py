"""What is told of a photo's errors, held to a pinhole camera with a lens that bends.

The lens: r' = r (1 + k1 r²), the first term of the usual radial model (D. C. Brown, Close-range
camera calibration, Photogrammetric Engineering 37 (1971) 855-866). Seen square on, the middle of
a side then lies off the line between its corners by a sum that is worked out by hand below.
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from platewright.app.editing.edit import apply_edit
from platewright.app.editing.edits import TakeOff
from platewright.app.editing.photo import CORNERS as FILE
from platewright.app.editing.photo_checks import (
    Checks,
    Known,
    differences,
    keep_checks,
    kept_checks,
    taken_over,
    trust_of,
)
from platewright.app.editing.session import Session

from .test_photo import CORNERS, PLATE, SIZE, camera

POSE = {"tilt": 21.0, "turn": -13.0, "away": 2600.0, "focal": 3000.0}
MIDDLES = np.array([(375, 0), (750, 575), (375, 1150), (0, 575)], dtype=float)
NAMES = ("lower", "right", "upper", "left")
NONE = Checks(edges={}, known=(), seen={})


def pixels(points: np.ndarray, **pose: float) -> tuple[tuple[float, float], ...]:
    return tuple((float(x), float(y)) for x, y in camera(points, **(POSE | pose)))


def checks(edges: np.ndarray, known: tuple[Known, ...] = ()) -> Checks:
    places = [(float(x), float(y)) for x, y in edges]
    return Checks(edges=dict(zip(NAMES, places, strict=True)), known=known, seen={})


def test_a_straight_lens_has_no_bow_and_true_distances() -> None:
    start, end = pixels(np.array([(100.0, 200.0), (600.0, 900.0)]))
    known = Known(start=start, end=end, length=float(np.hypot(500, 700)))
    marked = checks(camera(MIDDLES, **POSE), (known,))
    trust = trust_of(pixels(CORNERS), PLATE, marked)
    assert max(abs(b) for b in trust.bow.values()) < 1e-6
    assert abs(trust.off[0]) < 1e-6
    assert trust.worst is not None
    assert trust.worst < 1e-6


def test_a_wrong_distance_is_told_by_how_much() -> None:
    start, end = pixels(np.array([(100.0, 200.0), (600.0, 200.0)]))
    off = trust_of(
        pixels(CORNERS), PLATE, Checks(edges={}, known=(Known(start=start, end=end, length=497.0),), seen={})
    )  # fmt: skip
    assert off.off[0] == pytest.approx(3.0)
    assert off.worst == pytest.approx(3.0)


@pytest.mark.parametrize("k1", [-4e-9, 3e-9])
def test_a_bending_lens_shows_its_bow(k1: float) -> None:
    middle = np.array(SIZE) / 2

    def bent(points: np.ndarray) -> np.ndarray:
        seen = camera(points, tilt=0.0, turn=0.0, away=2600.0, focal=3000.0) - middle
        return seen * (1 + k1 * (seen**2).sum(axis=1, keepdims=True)) + middle

    corners = tuple((float(x), float(y)) for x, y in bent(CORNERS))
    trust = trust_of(corners, PLATE, checks(bent(MIDDLES)))
    # by hand: half width a, half height b in pixels; corner factor c = 1 + k1 (a² + b²)
    a, b = 375 * 3000 / 2600, 575 * 3000 / 2600
    c = 1 + k1 * (a * a + b * b)
    right = 375 * ((1 + k1 * a * a) / c - 1)
    upper = 575 * ((1 + k1 * b * b) / c - 1)
    assert trust.bow == pytest.approx(
        {"right": right, "left": right, "upper": upper, "lower": upper}
    )
    assert (right > 0) == (k1 < 0), "a barrel lets the edges bend outwards"


def test_nothing_marked_is_not_called_exact() -> None:
    assert trust_of(pixels(CORNERS), PLATE, NONE).worst is None


def test_marks_are_kept_in_the_folder_and_odd_ones_left_out(tmp_path: Path) -> None:
    (tmp_path / FILE).write_text(json.dumps({"corners": pixels(CORNERS)}))
    kept = Checks(edges={"left": (1.0, 2.0)}, known=(Known(start=(0, 1), end=(2, 3), length=40.0),),
                  seen={"-Q1": (90.0, 905.5)})  # fmt: skip
    keep_checks(tmp_path, kept)
    assert kept_checks(tmp_path) == kept
    odd = {"corners": 3, "edges": {"left": "x"}, "known": [{"start": [1]}, 4], "seen": [1, 2]}
    (tmp_path / FILE).write_text(json.dumps(odd))
    assert kept_checks(tmp_path) == NONE
    (tmp_path / FILE).write_text("[")
    assert kept_checks(tmp_path) == NONE


def test_devices_are_taken_over_locked_and_from_the_tray(folder: Path) -> None:
    now = Session(folder).snapshot()
    bare = apply_edit(now.job, now.layout, TakeOff(tags=("-X3",))).layout
    layout, told = taken_over(now.job, bare, {"-Q1": (93.26, 901.5), "-X3": (300.0, 60.0)})
    assert (layout.devices["-Q1"].x, layout.devices["-Q1"].y) == (93.3, 901.5)
    assert layout.devices["-Q1"].locked
    assert layout.devices["-X3"].locked
    assert any("-Q1" in line and "+3.3" in line for line in told)
    rows = differences(now.job, bare, {"-Q1": (93.3, 901.5)}, ["-Q1", "-X3"])
    assert rows[0]["plan"] == [90.0, 905.5]
    assert rows[0]["seen"] == [93.3, 901.5]
    assert (rows[1]["plan"], rows[1]["seen"]) == (None, None)
