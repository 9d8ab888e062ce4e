"""Start the server on this machine's loopback address and open the page."""

from __future__ import annotations

import secrets
import socket
import sys
import webbrowser
from pathlib import Path
from typing import Final

import uvicorn

from platewright.web.server import create_app

HOST: Final = "127.0.0.1"
LONGEST_MESSAGE: Final = 1_000_000  # bytes of one message over the live channel


def serve(folder: Path, *, port: int, browser: bool) -> int:
    """Serve a job until Ctrl-C; return the exit status.

    Raises ``InputErrors`` when the job can't be read: nothing is served then.
    """
    # named TCP, so that answers are sent at once and not held back for 40 ms
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP) as listener:
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listener.bind((HOST, port))
        except OSError:
            print(f"port {port} is taken; leave out --port to take a free one", file=sys.stderr)  # noqa: T201
            return 2
        listener.listen()  # whoever comes before the server is up waits a moment
        port = listener.getsockname()[1]
        key = secrets.token_urlsafe(24)
        app = create_app(folder, port=port, key=key)
        address = f"http://{HOST}:{port}/#key={key}"
        print(f"{folder.resolve().name} lies on the bench: {address}", flush=True)  # noqa: T201
        print("Only this machine can see it. Every step is saved. Ctrl-C ends it.", flush=True)  # noqa: T201
        if browser:
            webbrowser.open(address)
        config = uvicorn.Config(
            app, log_level="warning", access_log=False, ws="websockets-sansio",
            ws_max_size=LONGEST_MESSAGE, server_header=False, date_header=False,
            timeout_graceful_shutdown=3,
        )  # fmt: skip
        uvicorn.Server(config).run(sockets=[listener])
    return 0
