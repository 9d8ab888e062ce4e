"""The committed pages are those of the registry."""

from pathlib import Path

from platewright.rules.reference import rule_pages
from platewright.rules.registry import rule_infos

DOCS = Path(__file__).parents[2] / "docs" / "rules"


def test_the_committed_pages_are_current():
    assert {page.name: page.read_text("utf-8") for page in DOCS.glob("*.md")} == rule_pages()


def test_every_rule_is_on_its_page_and_in_the_index():
    pages = rule_pages()
    for info in rule_infos():
        assert f"## {info.id}\n" in pages[f"{info.id.partition('.')[0]}.md"]
        assert f"`{info.id}`" in pages["index.md"]
