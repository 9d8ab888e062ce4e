"""``python -m platewright.web JOB``: open a job in the browser."""

from __future__ import annotations

import sys
from pathlib import Path

from platewright.web.serve import serve

if __name__ == "__main__":
    sys.exit(serve(Path(sys.argv[1]), port=0, browser="--no-browser" not in sys.argv))
