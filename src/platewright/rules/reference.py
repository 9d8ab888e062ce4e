"""The pages of ``docs/rules``, one a family, written from the registry."""

from __future__ import annotations

import importlib
from typing import Final

from platewright.foundation.sources import Standing
from platewright.model.finding import RuleInfo
from platewright.rules.registry import rule_infos

CARRIES: Final = {
    Standing.GEOMETRY: "plain geometry: missing it is a FAIL",
    Standing.JOB: "stated by the job or the device: missing it is a FAIL",
    Standing.PUBLISHED: "published: missing it is a FAIL",
    Standing.MEMORY: "from memory of a standard: missing it is a CAUTION",
    Standing.PRACTICE: "shop practice: missing it is a CAUTION",
}
OTHERWISE: Final = "a finding that stands on another source names it"
MISSING: Final = (
    "What is missing is UNDECIDED, what was assumed instead is a CAUTION; neither is a pass"
)
NOTE: Final = "This page is written by the program; see CONTRIBUTING for a new check."


def rule_pages() -> dict[str, str]:
    """Return file name -> text of each page: one a family, and the index."""
    families: dict[str, list[RuleInfo]] = {}
    for info in rule_infos():
        families.setdefault(info.id.partition(".")[0], []).append(info)
    pages = {f"{family}.md": _page(family, infos) for family, infos in families.items()}
    pages["index.md"] = _index(families)
    return dict(sorted(pages.items()))


def _page(family: str, infos: list[RuleInfo]) -> str:
    head = [f"# Checks: {family}", "", _summary(family), "", NOTE, ""]
    return "\n".join(head + [line for info in infos for line in _section(info)])


def _section(info: RuleInfo) -> list[str]:
    is_data = info.id.startswith("data.")
    carries = MISSING if is_data else f"It is {CARRIES[info.source.standing]}; {OTHERWISE}"
    told = f"Source: {info.source}. {carries}."
    return [f"## {info.id}", "", f"**{info.title}.** {info.why}", "", told, ""]


def _index(families: dict[str, list[RuleInfo]]) -> str:
    lines = ["# Checks", "", NOTE, "", "| check | what it asks | page |", "|---|---|---|"]
    for family, infos in families.items():
        lines += [f"| `{info.id}` | {info.title} | [{family}]({family}.md) |" for info in infos]
    return "\n".join([*lines, ""])


def _summary(family: str) -> str:
    return (importlib.import_module(f"platewright.rules.{family}").__doc__ or "").strip()
