from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

import pytest

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm, Ratio, Watt
from platewright.tables.reader import columns_of, parse_table, read_table, source_of
from platewright.tables.threads import ThreadRow


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    name: str
    length: Mm
    share: Ratio | None
    count: int
    heat: Watt | None
    source: str
    standing: Standing


HEADER = "name,length_mm,share_share,count,heat_w,source,standing\n"


def test_headers_are_field_and_unit() -> None:
    assert ",".join(column.header for column in columns_of(Row)) + "\n" == HEADER


def test_blank_is_not_known_and_not_zero() -> None:
    (row,) = parse_table(HEADER + 'a,1.5,,2,0,"book, page 3",practice\n', "t", Row)
    expected = Row(
        name="a",
        length=1.5,
        share=None,
        count=2,
        heat=0.0,
        source="book, page 3",
        standing=Standing.PRACTICE,
    )
    assert row == expected
    assert source_of(row) == Source("book, page 3", standing=Standing.PRACTICE)
    assert not source_of(row).can_fail


def test_all_faults_are_told_at_once() -> None:
    text = HEADER + "a,,,2,0,book,published\nb,long,,2,0,,memory\nc,nan,,2,0,book,job\nd,1\n"
    with pytest.raises(ValueError, match="row 2") as caught:
        parse_table(text, "t", Row)
    told = str(caught.value)
    assert "row 2, length_mm = ''" in told
    assert "row 3, length_mm = 'long'" in told
    assert "row 3, source = ''" in told
    assert "row 4, length_mm = 'nan'" in told
    assert "row 4, standing = 'job'" in told
    assert "row 5: 2 cells" in told


def test_other_columns_are_refused() -> None:
    with pytest.raises(ValueError, match="columns are"):
        parse_table(HEADER.replace("length_mm", "length_in") + "a,1,,2,0,book,memory\n", "t", Row)


def test_a_table_is_read_once() -> None:
    assert read_table("threads", ThreadRow) is read_table("threads", ThreadRow)


def test_every_table_has_a_note_and_a_source_in_every_row() -> None:
    folder = Path(str(files("platewright.tables").joinpath("data")))
    parts = "starter_parts.csv"  # a parts list, read as one
    tables = sorted(path for path in folder.glob("*.csv") if path.name != parts)
    assert tables
    for table in tables:
        note = table.with_suffix(".md").read_text("utf-8")
        assert note.startswith(f"# {table.name}\n"), table.name
        header, *rows = table.read_text("utf-8").splitlines()
        assert header.endswith(",source,standing"), table.name
        assert all(row.rsplit(",", 1)[1] in {"published", "memory", "practice"} for row in rows)
