"""Work that goes on in a thread of its own while the page looks on, and can be asked to end."""

from __future__ import annotations

import threading
from abc import ABC, abstractmethod


class UnderWay(ABC):
    """One piece of work under way. It looks at ``_stop`` and ends soon after that is set."""

    def __init__(self, name: str) -> None:
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._work, name=name, daemon=True)

    @abstractmethod
    def _work(self) -> None:
        """Do it all; tell every fault, since nobody else hears of it."""

    @property
    def is_running(self) -> bool:
        """Whether it still works."""
        return self._thread.is_alive()

    def start(self) -> None:
        """Begin."""
        self._thread.start()

    def stop(self) -> None:
        """Ask it to end with what it has so far."""
        self._stop.set()

    def join(self, seconds: float) -> None:
        """Wait until it has ended."""
        self._thread.join(timeout=seconds)
