"""The documents that follow from the code are the committed ones; the glossary knows the words."""

from __future__ import annotations

from pathlib import Path

import pytest

from platewright.app.docs import documents
from platewright.cli.arguments import parser
from platewright.model.finding import Verdict

DOCS = Path(__file__).resolve().parents[2] / "docs"


@pytest.mark.parametrize("name", sorted(documents()))
def test_documents_are_current(name: str) -> None:
    committed = (DOCS / name).read_text(encoding="utf-8")
    assert committed == documents()[name], "run: python3 run.py golden"


def test_the_glossary_knows_every_verdict() -> None:
    glossary = (DOCS / "glossary.md").read_text(encoding="utf-8")
    for verdict in Verdict:
        assert f"| {verdict.value} |" in glossary


def test_the_readme_names_every_command() -> None:
    readme = (DOCS.parent / "README.md").read_text(encoding="utf-8")
    commands = next(a for a in parser()._actions if a.dest == "command").choices
    assert commands
    for command in commands:
        assert command in readme
