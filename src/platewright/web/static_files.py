"""The page's own files, read once at the start: a name that is not among them does not exist."""

from __future__ import annotations

from importlib import resources
from pathlib import Path
from typing import Final

from starlette.types import Receive, Scope, Send

STATIC: Final = Path(__file__).resolve().parent / "static"
KINDS: Final = {
    ".html": b"text/html; charset=utf-8",
    ".js": b"text/javascript; charset=utf-8",
    ".css": b"text/css; charset=utf-8",
    ".otf": b"font/otf",
}
FONTS: Final = {
    "/font/regular.otf": "SourceSansPro-Regular.otf",
    "/font/semibold.otf": "SourceSansPro-Semibold.otf",
}


def page_files() -> dict[str, bytes]:
    """Return every file of the page by its address."""
    found = {
        f"/{path.relative_to(STATIC).as_posix()}": path.read_bytes()
        for path in sorted(STATIC.rglob("*"))
        if path.is_file() and path.suffix in KINDS
    }
    found["/"] = found["/index.html"]
    fonts = resources.files("font_source_sans_pro") / "files"
    return found | {name: (fonts / file).read_bytes() for name, file in FONTS.items()}


class PageFiles:
    """Answers with a file of the page, or that there is none."""

    def __init__(self) -> None:
        self.files = page_files()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:  # noqa: ARG002
        """Answer one request for a file."""
        path: str = scope["path"]
        body = self.files.get(path) if scope["method"] in ("GET", "HEAD") else None
        status, kind = 200, KINDS.get(Path(path).suffix or ".html", b"")
        if body is None:
            status, kind = 404, b"application/json"
            body = b'{"problem":"not found","where":"request","cure":"Look at the address"}'
        headers = [(b"content-type", kind), (b"content-length", str(len(body)).encode())]
        await send({"type": "http.response.start", "status": status, "headers": headers})
        await send(
            {"type": "http.response.body", "body": b"" if scope["method"] == "HEAD" else body}
        )

    def has(self, path: str) -> bool:
        """Tell whether an address is that of a file of the page."""
        return path in self.files
