"""The application: the page's files, its addresses, the live channel, all behind the guard."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from importlib import resources
from pathlib import Path
from typing import Final

from fastapi import FastAPI, Request, WebSocket
from fastapi.responses import FileResponse, Response
from fastapi.staticfiles import StaticFiles
from starlette.types import ASGIApp

from platewright.web import routes, routes_lists, routes_photo, routes_sheets
from platewright.web.channel import run_channel
from platewright.web.desk import Desk
from platewright.web.errors import add_handlers
from platewright.web.guard import Guard

STATIC: Final = Path(__file__).resolve().parent / "static"
FONTS: Final = {"regular": "SourceSansPro-Regular", "semibold": "SourceSansPro-Semibold"}


def create_app(folder: Path, *, port: int, key: str) -> ASGIApp:
    """Return the server of one job folder. Raises ``InputErrors`` when the job can't be read."""
    desk = Desk(folder)

    @asynccontextmanager
    async def life(_: FastAPI) -> AsyncIterator[None]:
        await desk.open()
        yield
        await desk.close()

    app = FastAPI(lifespan=life, docs_url=None, redoc_url=None, openapi_url=None)
    app.state.desk = desk
    add_handlers(app)
    for part in (routes, routes_lists, routes_sheets, routes_photo):
        app.include_router(part.router)

    @app.websocket("/live")
    async def live(socket: WebSocket) -> None:
        await run_channel(socket, desk, key)

    @app.get("/font/{name}.otf")
    async def font(request: Request, name: str) -> Response:  # noqa: ARG001
        return _font(name)

    app.mount("/", StaticFiles(directory=STATIC, html=True))
    return Guard(app, port=port, key=key)


def _font(name: str) -> Response:
    """Return one of the drawings' fonts."""
    stem = FONTS.get(name)
    if stem is None:
        return Response(status_code=404)
    found = resources.files("font_source_sans_pro") / "files" / f"{stem}.otf"
    return FileResponse(str(found), media_type="font/otf")
