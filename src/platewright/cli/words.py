"""How findings and totals are said on the command line."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any, Final

from platewright.model.finding import Finding, Verdict

if TYPE_CHECKING:  # loads the compiler, which most commands do without
    from platewright.arrange.arranger import Explained

_MOST: Final = 4  # findings of one rule printed in full before the rest are counted
_SHOWN: Final = (Verdict.FAIL, Verdict.CAUTION, Verdict.UNDECIDED)
_MEANING: Final = {
    Verdict.FAIL: "breaks a limit",
    Verdict.CAUTION: "short of good practice, or rests on an assumption",
    Verdict.UNDECIDED: "a datum is missing",
    Verdict.PASS: "within its limit",
    Verdict.NOT_APPLICABLE: "nothing to look at",
}

SAFETY: Final = (
    "Drafting aid, not an approval: device instructions, local code and a qualified person decide."
)


def said(findings: Iterable[Finding], *, everything: bool) -> Iterator[str]:
    """Yield the findings line by line, worst first; alike ones beyond a few are counted."""
    found = tuple(findings)
    for verdict in Verdict if everything else _SHOWN:
        here = [f for f in found if f.verdict is verdict]
        if not here:
            continue
        yield f"{verdict.value}: {_MEANING[verdict]}"
        for _, _, rule in sorted({f.rule.order for f in here}):
            alike = [f for f in here if f.rule.id == rule]
            full = verdict is Verdict.FAIL or everything
            shown = alike if full else alike[:_MOST]
            for finding in shown:
                yield f"  {finding.rule.id}  {finding.message}"
                if finding.cure and verdict in _SHOWN:
                    yield f"      cure: {finding.cure}"
                if verdict in _SHOWN:
                    yield f"      by: {finding.source}"
            if len(alike) > len(shown):
                yield f"  {rule}  … and {len(alike) - len(shown)} more like it (check --all shows them)"


def counted(counts: dict[str, int]) -> str:
    """Return the counts in one line."""
    return ", ".join(f"{number} {verdict}" for verdict, number in counts.items())


def summed(totals: dict[str, Any]) -> str:
    """Return the totals in one line."""
    proof = "" if totals["bars_proven"] else " (may not be the fewest)"
    return (
        f"{totals['placed']} of {totals['devices']} devices placed · wire {totals['wire_m']} m · "
        f"plate used {100 * totals['plate_used']:.0f} % · duct {totals['duct_m']} m · "
        f"rail {totals['rail_m']} m · {totals['holes']} holes · "
        f"fullest duct {100 * totals['highest_fill']:.0f} % · {_bars(totals)}{proof}"
    )


def _bars(totals: dict[str, Any]) -> str:
    """Return the new bars, and off-cuts from the store beside them."""
    bars, old = totals["bars"], totals["offcuts"]
    words = f"{bars} bar{'' if bars == 1 else 's'}"
    return f"{words} and {old} off-cut{'' if old == 1 else 's'}" if old else words


def in_columns(rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """Yield a table line by line: words to the left, figures to the right."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for first, *rest in rows:
        cells = [first.ljust(widths[0])]
        cells += [cell.rjust(width) for cell, width in zip(rest, widths[1:], strict=True)]
        yield "  " + "   ".join(cells).rstrip()


def explained(proven: Explained | None) -> Iterator[str]:
    """Yield what is proven of a plan; nothing where nothing was asked."""
    if proven is None:
        return
    yield (
        f"Proven: of {proven.windows} runs of {proven.window} neighbours, {proven.proven} stand in "
        f"the best order there is with all else as it is; {proven.whole_rows} whole rows."
    )
    wire, bound = proven.wire / 1000, proven.bound.value / 1000
    if bound <= 0:
        yield f"No bound on the wire: {proven.bound.how}."
        return
    yield (
        f"Bound: no plate in these rows and ducts has less than {bound:.2f} m along the wires' ways "
        f"({proven.bound.how}); this one has {wire:.2f} m, so the best may be at most "
        f"{100 * proven.bound.gap(proven.wire):.0f} % shorter."
    )


def noted(notes: Sequence[str]) -> None:
    """Print what the user should be told about reading the files."""
    for note in notes:
        print(f"note: {note}", file=sys.stderr)
