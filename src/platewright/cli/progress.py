"""A progress line on a terminal, nothing on a pipe; Ctrl-C asks the search to end."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

Progress = Callable[[float, str], bool]


@contextmanager
def progress_line(*, quiet: bool) -> Iterator[Progress]:
    """Give the search something to report to; the first Ctrl-C keeps the best plate so far."""
    asked = False

    def stop(_signal: int, _frame: FrameType | None) -> None:
        nonlocal asked
        if asked:
            raise KeyboardInterrupt
        asked = True

    before = signal.signal(signal.SIGINT, stop)
    try:
        if quiet or not sys.stderr.isatty():
            yield lambda _share, _text: not asked
            return
        from rich.console import Console
        from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

        columns = (BarColumn(), TimeElapsedColumn(), TextColumn("{task.description}"))
        with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
            task = bar.add_task("starting", total=1.0)

            def report(share: float, text: str) -> bool:
                bar.update(task, completed=share, description=text)
                return not asked

            yield report
    finally:
        signal.signal(signal.SIGINT, before)
