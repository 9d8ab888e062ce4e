import dataclasses
import re

import pytest

from platewright.heat.gap_table import gap_table

from .panels import rows

JOB = rows().job
TAG = next(tag for tag in JOB.devices if JOB.part_of(tag).heat == 30.0)
TABLE = gap_table(JOB, TAG)


def test_walls_cool_with_the_gap_and_warm_with_the_air():
    for column in zip(*(row.walls for row in TABLE.rows), strict=True):
        assert list(column) == sorted(column, reverse=True)
    for row in TABLE.rows:
        assert list(row.walls) == sorted(row.walls)


def test_needs_stand_in_the_table():
    middle = TABLE.airs[2]
    need = next(n for n in TABLE.needs if n.side == "left" and n.air == middle).duct
    above = [row.gap for row in TABLE.rows if row.walls[2] <= TABLE.duct_limit]
    assert need is not None
    assert need == 0 or min(above) >= need > max(
        (row.gap for row in TABLE.rows if row.walls[2] > TABLE.duct_limit), default=0
    )


def test_what_moves_it_is_told():
    told = " ".join(one.what for one in TABLE.sensitivities)
    for what in ("air inside", "true loss", "plate", "shield"):
        assert what in told
    assert "assumed" in " ".join(TABLE.notes)


def test_unknown_heat_is_refused_with_the_cure():
    part = dataclasses.replace(JOB.part_of(TAG), heat=None)
    job = dataclasses.replace(JOB, parts={**JOB.parts, part.part: part})
    with pytest.raises(ValueError, match=re.escape("state heat_w")):
        gap_table(job, TAG)
