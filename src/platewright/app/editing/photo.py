"""A phone picture of the plate as it stands, straightened to true scale under the drawing.

Flat things only: the picture is corrected for the plate's face. What stands out of it leans
away from the lens, the more so the nearer the edge; a lens that bends straight lines is not
corrected. The picture never leaves the job folder.
"""

from __future__ import annotations

import io
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageOps, UnidentifiedImageError

from platewright.app.editing.session import inside_only
from platewright.foundation.errors import InputError, InputErrors
from platewright.foundation.units import Mm, Ratio
from platewright.jobfile.atomic import save
from platewright.model.job import Plate

PICTURE: Final = "photo.jpg"
CORNERS: Final = "photo.json"
MOST_PIXELS: Final = 60_000_000  # a larger picture is refused before it is unpacked
PER_MM: Final = 2.0  # pixels of the straightened picture per mm, fewer on large plates
LONGEST: Final = 2_800  # pixels of its longer side
QUALITY: Final = 88

Corners: TypeAlias = tuple[tuple[float, float], ...]  # lower left, lower right, upper right, …
Matrix: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How well four corners fit the plate's known sides."""

    mm_per_pixel: Mm  # on the plate: what one pixel's mis-click is worth
    shape_error: Ratio | None  # measured width to height against the known; None: can't be told
    off: Mm | None  # the same, as mm over the plate's longer side


def keep_picture(folder: Path, content: bytes) -> tuple[int, int]:
    """Save a picture in the job folder, upright and without its hidden data; return its size."""
    try:
        with Image.open(io.BytesIO(content), formats=("JPEG", "PNG")) as found:
            if found.width * found.height > MOST_PIXELS:
                raise _refused("has too many pixels", f"Send one of {MOST_PIXELS} at most")
            upright = ImageOps.exif_transpose(found).convert("RGB")
    except (UnidentifiedImageError, OSError, ValueError, Image.DecompressionBombError) as fault:
        raise _refused("is no JPEG or PNG picture that can be read", "Take it anew") from fault
    inside_only(folder, (PICTURE, CORNERS))
    out = io.BytesIO()
    upright.save(out, "JPEG", quality=QUALITY)
    (folder / CORNERS).unlink(missing_ok=True)
    save(folder / PICTURE, out.getvalue())
    return upright.size


def keep_corners(folder: Path, corners: Corners, plate: Plate) -> Fit:
    """Save the plate's corners in the picture; return how well they fit. Raises ``InputErrors``."""
    size = picture_size(folder)
    if size is None:
        raise _refused("is not there", "Choose a picture first")
    inside_only(folder, (PICTURE, CORNERS))
    fit = fit_of(corners, plate, size)
    save(folder / CORNERS, (json.dumps({"corners": corners}) + "\n").encode())
    return fit


def kept_corners(folder: Path) -> Corners | None:
    """Return the corners kept in the folder, if they are there and sound."""
    path = folder / CORNERS
    try:
        found = json.loads(path.read_bytes())["corners"]
        corners = tuple((float(x), float(y)) for x, y in found)
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return corners if len(corners) == 4 and np.isfinite(corners).all() else None


def picture_size(folder: Path) -> tuple[int, int] | None:
    """Return the size of the kept picture; ``None``: there is none."""
    try:
        inside_only(folder, (PICTURE,))
        with Image.open(folder / PICTURE, formats=("JPEG",)) as found:
            return found.size
    except (OSError, ValueError, InputErrors):
        return None


def drop_picture(folder: Path) -> None:
    """Take picture and corners out of the job folder."""
    for name in (PICTURE, CORNERS):
        (folder / name).unlink(missing_ok=True)


def plane_map(source: Matrix, target: Matrix) -> Matrix:
    """Return the 3 × 3 matrix that takes four points of one plane to four of another.

    x' = (h11 x + h12 y + h13) / (h31 x + h32 y + 1) and y' likewise: eight linear equations.
    Raises ``numpy.linalg.LinAlgError`` when three points lie on a line.
    """
    rows, right = [], []
    for (x, y), (u, v) in zip(source, target, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    found = np.linalg.solve(np.array(rows, dtype=np.float64), np.array(right, dtype=np.float64))
    return np.append(found, 1.0).reshape(3, 3)


def mapped(matrix: Matrix, points: Matrix) -> Matrix:
    """Return points taken through a plane map: (n, 2)."""
    homogeneous = np.column_stack([points, np.ones(len(points))]) @ matrix.T
    return np.asarray(homogeneous[:, :2] / homogeneous[:, 2:])


def fit_of(corners: Corners, plate: Plate, size: tuple[int, int]) -> Fit:
    """Return how well the corners fit the plate. Raises ``InputErrors`` for no four-sided shape."""
    points = np.array(corners, dtype=np.float64)
    if _turns(points) not in ({1.0}, {-1.0}):
        raise _refused(
            "the four corners make no four-sided shape", "Click them in turn round the plate"
        )
    square = np.array([(0, 0), (plate.width, 0), (plate.width, plate.height), (0, plate.height)])
    matrix = plane_map(square.astype(np.float64), points)
    x, y = plate.width / 2, plate.height / 2
    step = mapped(matrix, np.array([(x, y), (x + 1.0, y), (x, y + 1.0)]))
    per_mm = min(np.linalg.norm(step[1] - step[0]), np.linalg.norm(step[2] - step[0]))
    shape = seen_shape(points, size)
    known = plate.width / plate.height
    error = None if shape is None else float(shape / known - 1.0)
    off = None if error is None else abs(error) * max(plate.width, plate.height)
    return Fit(mm_per_pixel=float(1.0 / per_mm), shape_error=error, off=off)


def seen_shape(corners: Matrix, size: tuple[int, int]) -> float | None:
    """Return width over height of the rectangle seen in a picture, without knowing it.

    For a lens with square pixels and its axis in the middle of the picture. With m1..m4 the
    corners from the axis (homogeneous), the rectangle's two directions n2 and n3 follow from the
    corners alone; that they stand square on each other gives the focal length, and their lengths
    the shape. Seen square on there is no focal length to find: the sides themselves tell.
    Source: Z. Zhang, L.-W. He, Whiteboard scanning and image enhancement, Digital Signal
    Processing 17 (2007) 414–432, section 3.
    """
    centred = corners - np.array(size, dtype=np.float64) / 2
    m1, m2, m4, m3 = (np.array([x, y, 1.0]) for x, y in centred)  # (0,0) (w,0) (w,h) (0,h)
    k2 = np.dot(np.cross(m1, m4), m3) / np.dot(np.cross(m2, m4), m3)
    k3 = np.dot(np.cross(m1, m4), m2) / np.dot(np.cross(m3, m4), m2)
    n2, n3 = k2 * m2 - m1, k3 * m3 - m1
    flat = max(abs(k2 - 1.0), abs(k3 - 1.0)) < 0.01
    if flat:
        return float(np.linalg.norm(n2[:2]) / np.linalg.norm(n3[:2]))
    if abs(n2[2] * n3[2]) < 1e-9:
        return None
    squared = -(n2[0] * n3[0] + n2[1] * n3[1]) / (n2[2] * n3[2])
    if squared <= 0:
        return None
    weigh = np.array([1 / squared, 1 / squared, 1.0])
    return float(np.sqrt((n2**2 @ weigh) / (n3**2 @ weigh)))


def straightened(folder: Path, plate: Plate) -> bytes | None:
    """Return the plate's face at true scale as a JPEG, its lower left corner lower left."""
    corners = kept_corners(folder)
    if corners is None or picture_size(folder) is None:
        return None
    scale = min(PER_MM, LONGEST / max(plate.width, plate.height))
    width, height = round(plate.width * scale), round(plate.height * scale)
    face = np.array([(0, height), (width, height), (width, 0), (0, 0)], dtype=np.float64)
    matrix = plane_map(face, np.array(corners, dtype=np.float64))
    with Image.open(folder / PICTURE, formats=("JPEG",)) as found:
        flat = found.transform(
            (width, height),
            Image.Transform.PERSPECTIVE,
            tuple(matrix.ravel()[:8]),
            Image.Resampling.BICUBIC,
        )
    out = io.BytesIO()
    flat.save(out, "JPEG", quality=QUALITY)
    return out.getvalue()


def _turns(points: Matrix) -> set[float]:
    """Return the signs of the turns at the corners: one sign only for a convex shape."""
    sides = np.roll(points, -1, axis=0) - points
    after = np.roll(sides, -1, axis=0)
    return set(np.sign(sides[:, 0] * after[:, 1] - sides[:, 1] * after[:, 0]).tolist())


def _refused(problem: str, cure: str) -> InputErrors:
    return InputErrors([InputError(file=PICTURE, problem=problem, cure=cure)])
