"""The programs read back by an interpreter of its own: words, modes and canned cycles of RS-274/NGC.

Written from the public description of the language: G0, G1 move; G81, G84 go above X Y at the height
they are at, down to R, on to Z, and with G98 back to where they began; comments stand in brackets.
Nothing of the writer is used.
"""

import io
import re
from dataclasses import dataclass, field
from pathlib import Path

import ezdxf
import pytest

from platewright.app.check import read_folder
from platewright.app.gather import panel_of
from platewright.app.plans.plan import Budget, plan
from platewright.drawing.dxf import write_dxf
from platewright.model.layout import Layout
from platewright.sheets.bench_programs import programs
from platewright.sheets.hole_schedule import hole_table
from platewright.sheets.layout import plate_at_scale

EXAMPLES = Path(__file__).parents[2] / "examples"
SAFE, LOWEST_DRY = 25.0, 20.0
KNOWN_G = {0, 4, 17, 21, 40, 49, 54, 80, 81, 84, 90, 94, 98}
KNOWN_M = {0, 3, 5, 6, 30}


@dataclass
class Machine:
    """Where the tool is, what is on, and everything it did."""

    x: float = 0.0
    y: float = 0.0
    z: float | None = None
    spindle: bool = False
    speed: float = 0.0
    feed: float = 0.0
    tool: int = 0
    turned: bool = False
    ended: bool = False
    moves: list = field(default_factory=list)  # (from, to, is fast)
    holes: list = field(default_factory=list)  # (cycle, x, y, depth, tool, feed, speed)
    visits: list = field(default_factory=list)

    def go(self, x, y, z, *, fast):
        self.moves.append(((self.x, self.y, self.z), (x, y, z), fast))
        self.x, self.y, self.z = x, y, z

    def block(self, line):
        code = re.sub(r"\([^()]*\)", "", line)
        assert "(" not in code
        assert ")" not in code
        words = [(w, float(n)) for w, n in re.findall(r"([A-Z])\s*([-+]?\d*\.?\d+)", code)]
        assert re.sub(r"([A-Z])\s*([-+]?\d*\.?\d+)", "", code).strip() == ""
        gs, ms = [n for w, n in words if w == "G"], [n for w, n in words if w == "M"]
        assert set(gs) <= KNOWN_G
        assert set(ms) <= KNOWN_M
        at = dict(words)
        self.speed, self.feed = at.get("S", self.speed), at.get("F", self.feed)
        self.tool = int(at.get("T", self.tool))
        x, y, z = at.get("X", self.x), at.get("Y", self.y), at.get("Z", self.z)
        if 81 in gs or 84 in gs:
            began = self.z
            assert 98 in gs
            self.go(x, y, began, fast=True)
            self.go(x, y, at["R"], fast=True)
            self.go(x, y, z, fast=False)
            self.holes.append(
                (84 if 84 in gs else 81, x, y, -z, self.tool, self.feed, self.speed, self.spindle)
            )
            self.go(x, y, began, fast=True)
        elif 0 in gs:
            assert not ({"X", "Y"} & set(at) and "Z" in at), "sideways and down in one move"
            self.go(x, y, z, fast=True)
            if "X" in at:
                self.visits.append((x, y))
        elif {"X", "Y", "Z"} & set(at):
            raise AssertionError(f"a move without its G word: {line}")
        if 3 in ms:
            self.spindle = True
        elif {0, 5, 6, 30} & set(ms):
            self.spindle = False
        self.turned = self.turned or self.spindle
        self.ended = self.ended or 30 in ms


def same(found, wanted):
    """Tell whether two lists of rows of numbers are the same to a thousandth, in any order."""
    found, wanted = sorted(found), sorted(wanted)
    return len(found) == len(wanted) and all(
        abs(a - b) < 1.1e-3
        for one, other in zip(found, wanted, strict=True)
        for a, b in zip(one, other, strict=True)
    )


def run(content):
    lines = content.decode("ascii").splitlines()
    assert (lines[0], lines[-1]) == ("%", "%")
    machine = Machine()
    for line in lines[1:-1]:
        assert not machine.ended
        machine.block(line)
    assert machine.ended
    return machine


@pytest.fixture(scope="module", params=["bottle-rinser", "bottle-rinser-by-hand", "packaging-line"])
def made(request):
    read = read_folder(EXAMPLES / request.param)
    job, layout = read.job, read.layout
    if not layout.holes:
        budget = Budget(moves=3000)
        layout = plan(job, Layout(), seed=1, budget=budget, progress=lambda *_: True).panel.layout
    panel = panel_of(job, layout)
    return panel, programs(panel, ())


def never_sideways_below(machine, height):
    for start, end, _ in machine.moves:
        if (start[0], start[1]) != (end[0], end[1]):
            assert start[2] is not None
            assert min(start[2], end[2]) >= height - 1e-9


def test_programs_visit_exactly_the_schedule_at_its_depths(made):
    """Depth: through the plate, a drill's point of 0.3 diameters and 1 mm on; a spot is 0.5 mm."""
    panel, files = made
    thickness = panel.job.settings.plate.thickness
    names = [column.name for column in hole_table(panel, ()).columns]
    rows = [dict(zip(names, row, strict=True)) for row in hole_table(panel, ()).rows]
    todo = [row for row in rows if row["state"] != "drilled"]
    drilled = run(files["drill.ngc"]).holes
    through = {r["tag"]: thickness + 0.3 * r["drill"] + 1 for r in todo}
    pilots = [r for r in todo if r["drill"] > 6]
    assert same(
        [hole[:4] for hole in drilled],
        [(81, r["x"], r["y"], through[r["tag"]]) for r in todo]
        + [(81, r["x"], r["y"], thickness + 0.3 * 3 + 1) for r in pilots],
    )
    marked = [hole[1:4] for hole in run(files["mark.ngc"]).holes]
    assert same(marked, [(r["x"], r["y"], 0.5) for r in rows if r["state"] == "planned"])
    tapped = run(files["tap.ngc"]).holes
    assert same(
        [hole[:3] for hole in tapped],
        [(84, r["x"], r["y"]) for r in todo if r["kind"] == "tapped"],
    )
    assert all(hole[3] > thickness + 1 for hole in tapped)


def test_the_dxf_of_every_example_audits_clean_and_has_the_holes_of_the_schedule(made):
    panel, _ = made
    document = ezdxf.read(io.StringIO(write_dxf(plate_at_scale(panel)).decode()))
    assert document.audit().errors == []
    circles = [
        (c.dxf.center.x, c.dxf.center.y, 2 * c.dxf.radius)
        for c in document.modelspace().query("CIRCLE")
        if c.dxf.layer.startswith("HOLE-")
    ]
    assert same(circles, [(row[1], row[2], row[5]) for row in hole_table(panel, ()).rows])


def test_nothing_goes_sideways_below_the_safe_height(made):
    _, files = made
    for name, content in files.items():
        machine = run(content)
        never_sideways_below(machine, SAFE)
        assert all(end[2] >= 0 for _, end, fast in machine.moves if fast), name


def test_the_spindle_turns_in_every_hole_and_a_tap_follows_its_pitch(made):
    panel, files = made
    pitches = {"M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25}  # ISO 261
    sizes = {(round(h.x, 3), round(h.y, 3)): h.size for h in panel.layout.holes.values()}
    for name in ("mark", "drill", "tap"):
        for cycle, x, y, _, tool, feed, speed, turning in run(files[f"{name}.ngc"]).holes:
            assert turning
            assert tool > 0
            assert speed > 0
            assert feed > 0
            if cycle == 84:
                assert feed / speed == pytest.approx(pitches[sizes[x, y]], rel=1e-3)


def test_the_dry_run_visits_the_same_places_and_touches_nothing(made):
    _, files = made
    for name in ("mark", "drill", "tap"):
        real, dry = run(files[f"{name}.ngc"]), run(files[f"{name}-dry-run.ngc"])
        assert dry.visits == [(x, y) for _, x, y, *_ in real.holes]
        assert not dry.holes
        assert all(end[2] >= LOWEST_DRY for _, end, _ in dry.moves)
        assert not dry.turned
        never_sideways_below(dry, SAFE)


def test_the_interpreter_sees_a_sideways_move_that_is_too_low():
    bad = b"%\nG21 G90\nG0 Z25\nG0 X10 Y10\nG0 Z5\nG0 X20 Y10\nM30\n%\n"
    with pytest.raises(AssertionError):
        never_sideways_below(run(bad), SAFE)
