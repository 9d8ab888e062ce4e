"""Choose the command, and turn what the user can cure into one clear message."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from platewright.cli.arguments import parser
from platewright.foundation.errors import CannotPlan, InputErrors

_TAKES_A_TAG = ("--device",)


def _joined(words: Sequence[str]) -> list[str]:
    """Join ``--device -T1`` into one word: designations begin with a dash, as options do."""
    joined: list[str] = []
    for word in words:
        if joined and joined[-1] in _TAKES_A_TAG:
            joined[-1] += f"={word}"
        else:
            joined.append(word)
    return joined


def run(arguments: Sequence[str] | None) -> int:
    """Run one command; return its exit status."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="replace")
    args = parser().parse_args(_joined(sys.argv[1:] if arguments is None else arguments))
    try:
        if args.command is None:
            from platewright.cli.next_step import next_step

            return next_step(Path())
        from platewright.cli import commands

        return int(getattr(commands, args.command.replace("-", "_"))(args))
    except InputErrors as errors:
        for fault in errors.faults:
            print(fault, file=sys.stderr)
        count = len(errors.faults)
        print(f"{count} fault{'s' if count != 1 else ''}; no file was changed.", file=sys.stderr)
        return 2
    except CannotPlan as cannot:
        print(cannot, file=sys.stderr)
        print("No file was changed.", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("stopped; no file was changed.", file=sys.stderr)
        return 1
    except BrokenPipeError:
        return 0
    except OSError as refused:
        if refused.filename is None:
            raise
        return _refused_by_the_system(refused)


def _refused_by_the_system(refused: OSError) -> int:
    """Say which file or folder the system keeps from us, and what cures it."""
    match refused:
        case PermissionError():
            cure = "Allow reading and writing there, or copy the job to another place"
        case FileExistsError() | NotADirectoryError() | IsADirectoryError():
            cure = "A file stands where a folder should, or the other way round: name another place"
        case FileNotFoundError():
            cure = "Correct the path"
        case _:
            cure = "Make room on the disk, or use another place"
    name = refused.filename2 or refused.filename
    print(f"{name}: {(refused.strerror or 'refused').lower()}. {cure}", file=sys.stderr)
    return 2
