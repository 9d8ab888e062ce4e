"""Progress that is heard of steadily, whatever the search is busy with."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Final

Progress = Callable[[float, str], bool]

EVERY: Final = 0.1  # s; without news for so long, the last news is told again


@contextmanager
def beating(progress: Progress, every: float = EVERY) -> Iterator[Progress]:
    """Give a progress that also repeats its last news while routes and holes are worked out.

    What ``progress`` answers to a repetition counts at the next news: a search ends there.
    """
    lock, ended = threading.Lock(), threading.Event()
    last: list[tuple[float, str]] = [(0.0, "starting")]
    heard = [time.monotonic()]
    goes_on = [True]

    def tell(share: float, text: str) -> bool:
        with lock:
            last[0], heard[0] = (share, text), time.monotonic()
            goes_on[0] = progress(share, text) and goes_on[0]
            return goes_on[0]

    def beat() -> None:
        while not ended.wait(every / 2):
            with lock:
                if time.monotonic() - heard[0] >= every / 2:
                    heard[0] = time.monotonic()
                    goes_on[0] = progress(*last[0]) and goes_on[0]

    thread = threading.Thread(target=beat, name="progress", daemon=True)
    thread.start()
    try:
        yield tell
    finally:
        ended.set()
        thread.join()
