"""Plan by every weighing of the aims while the page looks on; the plates side by side at the end."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from platewright.app.beside.planning import Candidate, candidate_of
from platewright.app.beside.under_way import UnderWay
from platewright.app.editing.session import Snapshot
from platewright.app.plans.worth import known_measures, text_of, value_of, words_of
from platewright.foundation.errors import PlatewrightError
from platewright.model.layout import Layout

MOVES: Final = 30_000  # for each plate
STANDS: Final = "as it stands"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One measured value of all plates; ``best``: which have the least, where less is better."""

    words: str
    values: tuple[str, ...]
    best: tuple[bool, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """One plate of the comparison."""

    name: str
    title: str
    remarks: tuple[str, ...]
    layout: Layout
    fails: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """How far a comparison is; plates and lines once it has ended."""

    share: float
    text: str
    ended: bool
    problem: str = ""
    plates: tuple[Plate, ...] = ()
    lines: tuple[Line, ...] = ()
    failed: Mapping[str, str] | None = None


def lines_of(candidates: Mapping[str, Candidate], now: Snapshot) -> tuple[Line, ...]:
    """Return what plates are worth, a line a measure."""
    unit = now.job.settings.units
    worths = [c.worth for c in candidates.values() if c.worth is not None]
    found = []
    for measure in known_measures(worths):
        known = [v for w in worths if (v := value_of(w, measure)) is not None]
        texts = tuple(text_of(w, measure, unit) for w in worths)
        least = min(known)
        is_best = tuple(
            measure.is_aim and value_of(w, measure) == least and len(set(texts)) > 1 for w in worths
        )
        found.append(Line(words=words_of(measure, unit), values=texts, best=is_best))
    return tuple(found)


class Comparing(UnderWay):
    """One comparison under way. ``tell`` is called from the worker's thread."""

    def __init__(
        self, now: Snapshot, before: Candidate, *, seed: int, tell: Callable[[Compared], None]
    ) -> None:
        super().__init__("compare")
        self.now, self.before, self.seed, self.tell = now, before, seed, tell

    def _report(self, share: float, text: str) -> bool:
        self.tell(Compared(share=share, text=text, ended=False))
        return not self._stop.is_set()

    def _work(self) -> None:
        try:
            self.tell(self._found())
        except PlatewrightError as refused:
            self.tell(Compared(share=1.0, text="", ended=True, problem=str(refused)))
        except Exception as fault:  # noqa: BLE001  (the page must hear of it, whatever it is)
            problem = f"the comparison ended by a fault of ours: {fault!r}"
            self.tell(Compared(share=1.0, text="", ended=True, problem=problem))

    def _found(self) -> Compared:
        from platewright.app.plans.compare import compare, remarks_of  # noqa: PLC0415 (opening must not wait for it)
        from platewright.app.plans.plan import Budget  # noqa: PLC0415 (as above)

        found = compare(
            self.now.job, self.now.layout, seed=self.seed, budget=Budget(moves=MOVES),
            progress=self._report,
        )  # fmt: skip
        made = {one.name: one for one in found.alternatives}
        candidates = {STANDS: self.before}
        candidates |= {name: candidate_of(one.planned.panel) for name, one in made.items()}
        plates = tuple(
            Plate(
                name=name, title=made[name].title if name in made else "",
                remarks=tuple(remarks_of(made[name])) if name in made else (),
                layout=candidate.layout, fails=candidate.counts["FAIL"],
            )
            for name, candidate in candidates.items()
        )  # fmt: skip
        return Compared(
            share=1.0, text="stopped" if found.stopped else "done", ended=True, plates=plates,
            lines=lines_of(candidates, self.now), failed=found.failed,
            problem="" if made else "no plate was found",
        )  # fmt: skip
