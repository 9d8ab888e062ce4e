"""The command ``platewright``."""

from __future__ import annotations

import os
import sys

# One thread for linear algebra, before numpy loads: two fight over two cores.
for _name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(_name, "1")


def main(arguments: list[str] | None = None) -> int:
    """Run the command line; return the exit status."""
    from platewright.cli.main import run
    from platewright.foundation.at_once import answer_at_once

    answer_at_once("platewright.app.plans.warm")
    return run(arguments)


if __name__ == "__main__":
    sys.exit(main())
