"""The column reference as text for a terminal: no marks of Markdown, a paragraph for each column."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator
from typing import Final

WIDTH: Final = 96
_CELL_END: Final = re.compile(r"(?<!\\)\|")
_ONLY_FOR_EDITORS: Final = "This page is generated"


def plain_text(page: str) -> str:
    """Return a Markdown page as a terminal shows it best; code is put in."""
    return "\n".join(_lines(page)).strip() + "\n"


def _lines(page: str) -> Iterator[str]:
    for number, part in enumerate(page.split("```")):  # every second part is code
        if number % 2:
            yield from ("    " + line for line in part.splitlines()[1:])
            yield ""
            continue
        for paragraph in part.strip("\n").split("\n\n"):
            if not paragraph.startswith(_ONLY_FOR_EDITORS):
                for line in _joined(paragraph):
                    yield from _wrapped(line)
                yield ""


def _joined(paragraph: str) -> list[str]:
    """Return the lines of a paragraph, those that go on put behind the one they belong to."""
    lines: list[str] = []
    for line in paragraph.splitlines():
        goes_on = lines and line.startswith("  ")
        if goes_on:
            lines[-1] += " " + line.strip()
        else:
            lines.append(line)
    return lines


def _wrapped(line: str) -> Iterator[str]:
    if line.startswith("| "):
        yield from _row([cell.strip() for cell in _CELL_END.split(line)[1:-1]])
    elif line.startswith("#"):
        title = _unmarked(line.lstrip("# "))
        yield title
        yield ("=" if line.startswith(("# ", "## ")) else "-") * len(title)
    else:
        yield from textwrap.wrap(
            _unmarked(line), WIDTH, subsequent_indent="  " if line.startswith("- ") else ""
        )


def _row(cells: list[str]) -> Iterator[str]:
    """Yield one column: its name, unit and whether it is needed; what it means below."""
    if cells[0] in {"column", "---"}:
        return
    name, unit, needed, meaning, span, example = (_unmarked(cell) for cell in cells)
    need = "needed" if needed == "yes" else f"may be left out ({needed.removeprefix('no; ')})"
    yield f"{name}  {need}"
    words = [meaning, f"in {unit}" if unit else "", span, f"e.g. {example}" if example else ""]
    yield from textwrap.wrap(
        "; ".join(word for word in words if word), WIDTH,
        initial_indent="    ", subsequent_indent="    ",
    )  # fmt: skip


def _unmarked(text: str) -> str:
    return re.sub(r"`([^`]*)`", r"\1", text.replace("**", "")).replace("\\|", "|")
