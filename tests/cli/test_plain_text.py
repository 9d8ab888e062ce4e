"""The reference in the terminal: the same columns and examples, no marks of Markdown."""

from __future__ import annotations

from platewright.cli.plain_text import WIDTH, plain_text
from platewright.jobfile.columns import columns_of
from platewright.jobfile.reference import columns_page
from platewright.model.part import Part


def test_every_column_is_there_and_no_mark_of_markdown() -> None:
    text = plain_text(columns_page())
    starts = [line.split("  ")[0] for line in text.splitlines()]
    assert {column.name for column in columns_of(Part)} <= set(starts)
    assert "`" not in text
    assert "**" not in text
    assert "| " not in text
    assert "generated" not in text


def test_an_example_keeps_its_lines_and_words_are_wrapped() -> None:
    text = plain_text("## a.csv\n\n" + "long " * 40 + "\n\n```csv\na,b\n\n1,**2**\n```\n\nEnd\n")
    lines = text.splitlines()
    assert lines[:2] == ["a.csv", "====="]
    assert "    a,b" in lines
    assert "    1,**2**" in lines
    assert lines[-1] == "End"
    assert max(map(len, lines)) <= WIDTH


def test_a_needed_column_says_so() -> None:
    row = "| `size_mm` | mm | **yes** | Its size \\| reach | above 0 | `3` |"
    assert plain_text(row) == "size_mm  needed\n    Its size | reach; in mm; above 0; e.g. 3\n"
