"""The starter list of typical parts."""

from __future__ import annotations

import pytest

from platewright.jobfile.folder import starter_parts
from platewright.model.part import Part

PARTS = starter_parts()


def test_every_value_is_marked_as_typical() -> None:
    assert len(PARTS) >= 45
    assert all(name.startswith("typ-") for name in PARTS)
    assert all(part.source.startswith("typical: ") for part in PARTS.values())


@pytest.mark.parametrize("poles", [1, 2, 3, 4])
def test_breakers_follow_the_module_width(poles: int) -> None:
    # DIN 43880 (from memory): a device of n modules is 17.5 n wide, + 0.5 mm a module at most
    width = PARTS[f"typ-breaker-{poles}p"].width
    assert 17.5 * poles <= width <= 18.0 * poles


@pytest.mark.parametrize("size", ["2.5", "4", "6", "10", "16"])
def test_ten_terminals_are_ten_times_as_wide(size: str) -> None:
    one, ten = PARTS[f"typ-terminal-{size}mm2"], PARTS[f"typ-terminals-10x{size}mm2"]
    assert ten.width == pytest.approx(10 * one.width)
    assert len(ten.terminals_top) == len(ten.terminals_bottom) == 10


@pytest.mark.parametrize(
    ("name", "least", "most"),
    [  # watts at full load, shop practice: control transformers, 24 V supplies
        ("typ-transformer-100va", 15, 15),
        ("typ-transformer-250va", 25, 30),
        ("typ-transformer-500va", 40, 50),
        ("typ-transformer-1kva", 65, 80),
        ("typ-supply-24v-60w", 6, 6),
        ("typ-supply-24v-120w", 13, 13),
        ("typ-supply-24v-240w", 20, 20),
        ("typ-supply-24v-480w", 30, 40),
        ("typ-converter-0.75kw", 35, 35),
        ("typ-converter-2.2kw", 80, 80),
        ("typ-converter-4kw", 140, 140),
        ("typ-converter-7.5kw", 250, 250),
    ],
)
def test_heat_is_of_the_usual_order(name: str, least: float, most: float) -> None:
    heat = PARTS[name].heat
    assert heat is not None
    assert least <= heat <= most


@pytest.mark.parametrize("part", PARTS.values(), ids=list(PARTS))
def test_rows_are_sound(part: Part) -> None:
    assert len(set(part.terminals)) == len(part.terminals)
    assert part.mass is not None
    assert part.mount != "rail" or part.rail_center is not None
    assert part.mount != "rail" or part.clear_left is not None
