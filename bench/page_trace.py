"""Read a browser's trace: how long the page's own thread worked at one piece.

Time of the thread itself, not of the clock: what else runs on the machine does not count.
"""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path
from typing import Any

CATEGORIES = ["toplevel", "devtools.timeline"]
MAIN, TASK, CALL = "CrRendererMain", "RunTask", "FunctionCall"


def longest_task(trace: Path) -> float:
    """Return the longest task of the page's main thread, ms of that thread's own time."""
    events: list[dict[str, Any]] = json.loads(trace.read_text(encoding="utf-8"))["traceEvents"]
    names = {
        (e["pid"], e["tid"]): e["args"]["name"] for e in events if e.get("name") == "thread_name"
    }
    main = [e for e in events if e.get("ph") == "X" and names.get((e["pid"], e["tid"])) == MAIN]
    page = Counter(e["pid"] for e in main if e["name"] == CALL).most_common(1)[0][0]
    tasks = [e["tdur"] for e in main if e["pid"] == page and TASK in e["name"] and "tdur" in e]
    if len(tasks) < 20:
        raise AssertionError("the trace holds too few tasks to tell")
    return max(tasks) / 1000.0
