"""Colours of temperature bands: from pale yellow to red, even to the eye, each darker than the last.

Own scale, laid out in CIELAB (CIE 15) and turned into sRGB (IEC 61966-2-1, white D65). Lightness
alone tells the order, so that grey print and every kind of colour vision can; black lettering can
be read on each.
"""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import pairwise
from typing import Final

BANDS: Final = 9
LIGHTEST, DARKEST = 97.0, 55.0  # L*; black on L* 55 has a contrast above 4.5 (WCAG 2.2)
PALE, STRONG = 10.0, 62.0  # chroma
YELLOW, RED = 98.0, 26.0  # hue, degrees
STEPS: Final = 2000  # places along the path between which the bands are set evenly
WHITE: Final = (0.95047, 1.0, 1.08883)  # D65 in XYZ
Lab = tuple[float, float, float]


@lru_cache(maxsize=1)
def band_colours() -> tuple[str, ...]:
    """Return the colour of each band from cool to warm, as #rrggbb."""
    return tuple(_hex(lab) for lab in _even())


def grey_of(colour: str) -> float:
    """Return what a grey printer makes of a colour, 0 black to 1 white (luma of ITU-R BT.601)."""
    red, green, blue = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return 0.299 * red + 0.587 * green + 0.114 * blue


def _path(share: float) -> Lab:
    """Return the colour at a share of the way, in CIELAB: lightness and hue even, chroma easing."""
    chroma = PALE + (STRONG - PALE) * math.sin(share * math.pi / 2)
    hue = math.radians(YELLOW + (RED - YELLOW) * share)
    lightness = LIGHTEST + (DARKEST - LIGHTEST) * share
    return lightness, chroma * math.cos(hue), chroma * math.sin(hue)


def _even() -> tuple[Lab, ...]:
    """Return places on the path that are equally far from each other along it."""
    places = [_path(number / STEPS) for number in range(STEPS + 1)]
    far = [0.0]
    for one, other in pairwise(places):
        far.append(far[-1] + math.dist(one, other))
    wanted = [far[-1] * band / (BANDS - 1) for band in range(BANDS)]
    return tuple(places[min(range(STEPS + 1), key=lambda i: abs(far[i] - want))] for want in wanted)


def _hex(lab: Lab) -> str:
    lightness, a, b = lab
    fy = (lightness + 16) / 116
    x, y, z = (
        white * (f**3 if f > 6 / 29 else 3 * (6 / 29) ** 2 * (f - 4 / 29))
        for white, f in zip(WHITE, (fy + a / 500, fy, fy - b / 200), strict=True)
    )
    linear = (
        3.2404542 * x - 1.5371385 * y - 0.4985314 * z,
        -0.9692660 * x + 1.8760108 * y + 0.0415560 * z,
        0.0556434 * x - 0.2040259 * y + 1.0572252 * z,
    )
    return "#" + "".join(f"{round(255 * _bent(part)):02x}" for part in linear)


def _bent(part: float) -> float:
    """Return the sRGB value of a share of light; what lies outside of sRGB is a mistake of ours."""
    if not -0.002 <= part <= 1.002:
        raise ValueError(f"a colour of the scale is outside of sRGB: {part}")
    part = min(1.0, max(0.0, part))
    return 12.92 * part if part <= 0.0031308 else 1.055 * part ** (1 / 2.4) - 0.055
