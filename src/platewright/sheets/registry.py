"""Sheets and lists announce themselves; whoever prints asks here."""

from __future__ import annotations

import pkgutil
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from importlib import import_module
from typing import Final, TypeAlias

from platewright.drawing.picture import Picture
from platewright.drawing.table import Table
from platewright.model.finding import Finding, Verdict
from platewright.model.job import JobSettings
from platewright.model.panel import Panel
from platewright.sheets.page import Leaf, framed

Findings: TypeAlias = tuple[Finding, ...]
DrawLeaves: TypeAlias = Callable[[Panel, Findings], tuple[Leaf, ...]]
DrawPictures: TypeAlias = Callable[[Panel, Findings], tuple[Picture, ...]]
MakeTable: TypeAlias = Callable[[Panel, Findings], Table]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One printed document."""

    id: str
    title: str
    place: int  # in the package
    draw: DrawPictures


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """One list, for spreadsheets and programs."""

    id: str
    title: str
    make: MakeTable


SHEETS: Final[dict[str, Sheet]] = {}
LISTINGS: Final[dict[str, Listing]] = {}


def stamped(settings: JobSettings, findings: Findings) -> JobSettings:
    """Return the settings with a title that warns where a finding FAILs: on every sheet."""
    fails = sum(finding.verdict is Verdict.FAIL for finding in findings)
    if not fails:
        return settings
    title = f"{settings.job.title}: NOT TO BUILD, {fails} FAIL"
    return replace(settings, job=replace(settings.job, title=title))


def sheet(*, id: str, title: str, place: int) -> Callable[[DrawLeaves], DrawPictures]:  # noqa: A002
    """Announce a document; what it returns gets frame, title block and page numbers."""

    def announce(function: DrawLeaves) -> DrawPictures:
        def draw(panel: Panel, findings: Findings) -> tuple[Picture, ...]:
            leaves = function(panel, findings)
            settings = stamped(panel.job.settings, findings)
            return tuple(
                framed(leaf, settings, title=title, number=number, of=len(leaves))
                for number, leaf in enumerate(leaves, start=1)
            )

        draw.__doc__ = function.__doc__
        if id in SHEETS:
            raise ValueError(f"two sheets are called {id}")
        SHEETS[id] = Sheet(id=id, title=title, place=place, draw=draw)
        return draw

    return announce


def listing(*, id: str, title: str) -> Callable[[MakeTable], MakeTable]:  # noqa: A002
    """Announce a list."""

    def announce(function: MakeTable) -> MakeTable:
        if id in LISTINGS:
            raise ValueError(f"two lists are called {id}")
        LISTINGS[id] = Listing(id=id, title=title, make=function)
        return function

    return announce


def sheets() -> Mapping[str, Sheet]:
    """Return every sheet in the order of the package."""
    _discover()
    return dict(sorted(SHEETS.items(), key=lambda item: (item[1].place, item[0])))


def listings() -> Mapping[str, Listing]:
    """Return every list by name."""
    _discover()
    return dict(sorted(LISTINGS.items()))


def _discover() -> None:
    package = import_module("platewright.sheets")
    for module in pkgutil.iter_modules(package.__path__):
        import_module(f"platewright.sheets.{module.name}")
