"""Programs read back by an interpreter of its own.

After NIST IR 6556, The NIST RS274/NGC Interpreter, version 3: canned cycles and return level,
order of execution (from memory of it).
"""

import re
from dataclasses import dataclass, field

import pytest

from platewright.drawing.rs274 import Heights, Run, plain, write_program
from platewright.model.geometry import Point

HEIGHTS = Heights(safe=25.0, retract=5.0, dry=20.0)
RUNS = [
    Run(title="Drill ⌀4.2 mm", spindle=1610, feed=0.1, depth=4.76,
        holes=(("H1", Point(10.0, 20.5)), ("H2 (odd)", Point(700.0005, 1100.25)))),
    Run(title="Tap M5", spindle=580, feed=0.8, depth=5.9, pitch=0.8,
        holes=(("H2", Point(700.0005, 1100.25)),)),
]  # fmt: skip


@dataclass
class Machine:
    """What a control does with a program: every move, every hole; faults raise."""

    x: float = 0.0
    y: float = 0.0
    z: float = 60.0
    spindle: float = 0.0
    speed: float = 0.0
    feed: float = 0.0
    tool: int = 0
    cycle: str = ""
    back_to_start: bool = True
    metric: bool = False
    absolute: bool = False
    ended: bool = False
    moves: list = field(default_factory=list)  # (from, to, feeding)
    holes: list = field(default_factory=list)  # (kind, x, y, z, tool, speed, feed)
    sticky: dict = field(default_factory=dict)

    def go(self, x, y, z, *, feeding=False):
        self.moves.append(((self.x, self.y, self.z), (x, y, z), feeding))
        self.x, self.y, self.z = x, y, z


def run_program(text):
    machine = Machine()
    lines = text.decode("ascii").splitlines()
    assert lines[0] == lines[-1] == "%"
    for line in lines[1:-1]:
        assert not machine.ended, "words after the end"
        code = re.sub(r"\([^()]*\)", "", line)
        assert "(" not in code and ")" not in code, line  # noqa: PT018
        words = re.findall(r"([A-Z])(-?\d+(?:\.\d+)?)", code)
        assert re.sub(r"[A-Z]-?\d+(?:\.\d+)?|\s", "", code) == "", line
        _block(machine, words)
    assert machine.ended
    assert machine.cycle == ""
    return machine


def _block(m, words):
    gs = [f"G{float(v):g}" for k, v in words if k == "G"]
    ms = [int(v) for k, v in words if k == "M"]
    value = {k: float(v) for k, v in words if k not in "GM"}
    if "F" in value:
        m.feed = value["F"]
    if "S" in value:
        m.speed = value["S"]
    if 6 in ms:
        assert m.spindle == 0, "tool change with a turning spindle"
        m.tool = int(value["T"])
    if 3 in ms:
        m.spindle = m.speed
    if 5 in ms:
        m.spindle = 0
    m.metric |= "G21" in gs
    m.absolute |= "G90" in gs
    m.back_to_start = ("G98" in gs) or (m.back_to_start and "G99" not in gs)
    if "G80" in gs:
        m.cycle = ""
        m.sticky = {}
    motion = next((g for g in gs if g in ("G0", "G1", "G81", "G84")), None)
    if motion in ("G81", "G84"):
        m.cycle = motion
        m.sticky = {}
    if motion is None and m.cycle and {"X", "Y"} & set(value):
        motion = m.cycle
    if motion in ("G0", "G1"):
        assert not m.cycle, "a rapid inside a cycle"
        m.go(value.get("X", m.x), value.get("Y", m.y), value.get("Z", m.z), feeding=motion == "G1")
    elif motion:
        _cycle(m, motion, value)
    if 2 in ms or 30 in ms:
        m.ended = True
        m.spindle = 0


def _cycle(m, kind, value):
    assert m.metric and m.absolute  # noqa: PT018
    assert m.spindle > 0 and m.feed > 0, "a cycle needs speed and feed"  # noqa: PT018
    m.sticky |= {k: v for k, v in value.items() if k in "ZR"}
    start, bottom, retract = m.z, m.sticky["Z"], m.sticky["R"]
    assert retract >= bottom
    if m.z < retract:
        m.go(m.x, m.y, retract)
    m.go(value.get("X", m.x), value.get("Y", m.y), m.z)
    m.go(m.x, m.y, retract)
    m.go(m.x, m.y, bottom, feeding=True)
    m.holes.append((kind, m.x, m.y, bottom, m.tool, m.spindle, m.feed))
    m.go(m.x, m.y, start if m.back_to_start and start > retract else retract)


def written(*, dry=False):
    return write_program(
        RUNS, title="Panel (rev. Ω)", heights=HEIGHTS, notes=["50 % done"], dry=dry
    )


def test_every_hole_is_made_where_and_as_deep_as_told():
    machine = run_program(written())
    assert [(k, t) for k, _, _, _, t, _, _ in machine.holes] == [("G81", 1), ("G81", 1), ("G84", 2)]
    for hole, (run, at) in zip(
        machine.holes, [(r, p) for r in RUNS for _, p in r.holes], strict=True
    ):
        _, x, y, z, _, speed, feed = hole
        assert (x, y) == pytest.approx((at.x, at.y), abs=0.00051)
        assert z == pytest.approx(-run.depth)
        assert speed == run.spindle
        assert feed == pytest.approx(run.spindle * (run.pitch or run.feed))


@pytest.mark.parametrize("dry", [False, True])
def test_nothing_moves_sideways_below_the_safe_height(dry):
    for (x0, y0, z0), (x1, y1, z1), _ in run_program(written(dry=dry)).moves:
        if (x0, y0) != (x1, y1):
            assert z0 == z1
            assert z0 >= HEIGHTS.safe


def test_every_hole_is_a_full_line():
    lines = [line for line in written().decode().splitlines() if re.search(r"G8[14]", line)]
    assert len(lines) == 3
    assert all(re.search(r"X\S+ Y\S+ Z\S+ R\S+ F\S+", line) for line in lines)


def test_a_dry_run_goes_to_every_hole_and_cuts_nothing():
    text = written(dry=True)
    machine = run_program(text)
    assert machine.holes == []
    assert b"M3 " not in text
    assert min(z for _, (_, _, z), _ in machine.moves) >= HEIGHTS.dry
    low = [(x, y) for _, (x, y, z), _ in machine.moves if z == HEIGHTS.dry]
    assert low == [pytest.approx((p.x, p.y), abs=1e-3) for r in RUNS for _, p in r.holes]


def test_the_tap_goes_down_one_pitch_a_turn():
    """M5 at 300 turns: 300 × 0.8 = 240 mm/min (stack note on G84)."""
    run = Run(title="Tap M5", spindle=300, feed=0.8, depth=5, pitch=0.8,
              holes=(("H1", Point(1, 1)),))  # fmt: skip
    text = write_program([run], title="t", heights=HEIGHTS, dry=False).decode()
    assert " F240.0 " in text


def test_comments_can_not_end_early():
    assert plain("⌀4 (two); 50 %\nM30") == "D4  two   50   M30"


def test_a_broken_program_is_seen():
    """The interpreter itself refuses what it must: no feed, words left over, no end."""
    good = written().decode()
    for bad in (
        good.replace(" F161.0", "").replace(" F464.0", ""),
        good.replace("M30", ""),
        good.replace("G80\n", "", 1),
    ):
        with pytest.raises(AssertionError):
            run_program(bad.encode())
