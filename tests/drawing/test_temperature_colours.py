"""The colours of temperature, seen by every kind of colour vision, in grey print, under black ink.

Simulation of colour vision deficiency at full severity: the matrices of Machado, Oliveira and
Fernandes, "A physiologically-based model for simulation of color vision deficiency", IEEE TVCG 15
(2009) 6, table of results, for linear sRGB. Luminance and contrast: WCAG 2.2. Lightness: CIE 15.
"""

from itertools import pairwise

import numpy as np
import pytest

from platewright.drawing.temperature_colours import BANDS, band_colours, grey_of

JUST_NOTICED = 2.3  # CIELAB units: Mahy, Van Eycken and Oosterlinck (1994)
SIGHT = {
    "usual": np.eye(3),
    "protan": np.array([
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ]),
    "deutan": np.array([
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ]),
    "tritan": np.array([
        [1.255528, -0.076749, -0.178779],
        [-0.078411, 0.930809, 0.147602],
        [0.004733, 0.691367, 0.303900],
    ]),
}  # fmt: skip
LUMINANCE = np.array([0.2126, 0.7152, 0.0722])  # IEC 61966-2-1
TO_XYZ = np.array([
    [0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505],
])  # fmt: skip


def linear(colour):
    shares = np.array([int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)])
    return np.where(shares <= 0.04045, shares / 12.92, ((shares + 0.055) / 1.055) ** 2.4)


def lab(light):
    share = TO_XYZ @ np.clip(light, 0, 1) / (TO_XYZ @ np.ones(3))
    f = np.where(share > (6 / 29) ** 3, np.cbrt(share), share / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


@pytest.mark.parametrize("sight", SIGHT)
def test_every_eye_sees_each_band_darker_than_the_last(sight):
    seen = [lab(SIGHT[sight] @ linear(colour))[0] for colour in band_colours()]
    assert len(seen) == BANDS
    assert all(a - b >= 4.0 for a, b in pairwise(seen)), seen  # L*; 1 is just told apart


@pytest.mark.parametrize("sight", SIGHT)
def test_no_two_bands_look_alike(sight):
    seen = [lab(SIGHT[sight] @ linear(colour)) for colour in band_colours()]
    for n, one in enumerate(seen):
        for other in seen[n + 1 :]:
            assert np.linalg.norm(one - other) >= 2 * JUST_NOTICED


def test_the_steps_are_even_to_the_eye():
    seen = [lab(linear(colour)) for colour in band_colours()]
    steps = [np.linalg.norm(a - b) for a, b in pairwise(seen)]
    assert max(steps) / min(steps) < 1.1


def test_a_grey_print_keeps_the_order():
    greys = [grey_of(colour) for colour in band_colours()]
    assert all(a - b >= 0.05 for a, b in pairwise(greys)), greys


def test_black_lettering_can_be_read_on_every_band():
    for colour in band_colours():
        assert (LUMINANCE @ linear(colour) + 0.05) / 0.05 >= 4.5  # WCAG 2.2, 1.4.3
