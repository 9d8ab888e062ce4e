"""The command ``open``: from this machine only, one address, an end by Ctrl-C."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest


@contextmanager
def opened(*arguments: str) -> Iterator[subprocess.Popen[str]]:
    environment = dict(os.environ, PYTHONPATH=os.pathsep.join(sys.path))
    with subprocess.Popen(
        [sys.executable, "-m", "platewright", "open", *arguments, "--no-browser"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment,
    ) as process:  # fmt: skip
        yield process
        process.kill()


def test_open_serves_this_machine_only_and_ends_cleanly(folder: Path) -> None:
    with opened(str(folder)) as process:
        assert process.stdout is not None
        line = process.stdout.readline()
        found = re.search(r"http://127\.0\.0\.1:(\d+)/#key=(\S{20,})", line)
        assert found, line
        port, key = int(found[1]), found[2]
        request = urllib.request.Request(
            f"http://127.0.0.1:{port}/api/job", headers={"X-Platewright-Key": key}
        )
        with urllib.request.urlopen(request, timeout=20) as answer:  # noqa: S310
            assert answer.status == 200
        for address in own_addresses():
            with (
                pytest.raises(ConnectionRefusedError),
                socket.create_connection((address, port), timeout=2),
            ):
                pass
        with opened(str(folder), "--port", str(port)) as second:
            assert second.wait(timeout=30) == 2
            assert second.stderr is not None
            assert "is taken" in second.stderr.read()
        process.send_signal(signal.SIGINT)
        assert process.wait(timeout=30) in (0, 1)


def own_addresses() -> set[str]:
    """This machine's addresses other than the loopback."""
    found = {info[4][0] for info in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)}
    return {str(address) for address in found if not str(address).startswith("127.")}


def test_a_folder_that_is_no_job_is_told(tmp_path: Path) -> None:
    with opened(str(tmp_path)) as process:
        assert process.wait(timeout=30) == 2
        assert process.stderr is not None
        assert "job.toml" in process.stderr.read()
