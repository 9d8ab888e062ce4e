"""The rows by which the benches of cutting and drilling are judged bear their names."""

from pathlib import Path

import pytest

import bench_cut
import bench_tour
from cutting_lists import panel, uniform


def test_the_cutting_bench_tells_share_and_time(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bench_cut, "CLASSES", ((panel, (20,)), (uniform, (40,))))
    monkeypatch.setattr(bench_cut, "LISTS", 2)
    rows = {row["name"]: row for row in bench_cut.rows(None)}
    assert rows["proven_optimal_share"]["value"] == 1.0
    assert rows["worst_s"]["unit"] == "s"
    assert rows["worst_s"]["value"] > 0


def test_the_tour_bench_tells_a_gap_for_each_instance_and_the_time() -> None:
    rows = {row["name"]: row for row in bench_tour.rows(None)}
    gaps = {name: row["value"] for name, row in rows.items() if name.startswith("gap_")}
    assert set(gaps) == {f"gap_grid{a}x{b}" for a, b in bench_tour.GRIDS}
    assert all(gap == pytest.approx(1.0) for gap in gaps.values())  # full grids are exact
    assert rows["worst_s"]["unit"] == "s"


def test_the_tour_bench_reads_instances_from_a_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    places = "\n".join(f"{n} {x} {y}" for n, (x, y) in enumerate(bench_tour.grid(4, 6), 1))
    text = f"NAME : square\nNODE_COORD_SECTION\n{places}\nEOF\n"
    (tmp_path / "square.tsp").write_text(text, encoding="utf-8")
    monkeypatch.setattr(bench_tour, "OPTIMA", {"square": 600})  # 24 places, 25 apart
    names = [(row["name"], row["value"]) for row in bench_tour.rows(tmp_path)]
    assert names[0] == ("gap_square", 1.0)
    assert names[1][0] == "worst_s"
