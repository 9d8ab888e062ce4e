"""The application: the page's files, its addresses, the live channel, all behind the guard."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI, WebSocket
from starlette.types import ASGIApp, Receive, Scope, Send

from platewright.web import (
    routes,
    routes_heat,
    routes_lists,
    routes_photo,
    routes_settings,
    routes_sheets,
)
from platewright.web.channel import run_channel
from platewright.web.desk import Desk
from platewright.web.errors import add_handlers
from platewright.web.guard import Guard
from platewright.web.static_files import PageFiles


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
    for part in (routes, routes_heat, routes_lists, routes_settings, routes_sheets, routes_photo):
        app.include_router(part.router)

    @app.websocket("/live")
    async def live(socket: WebSocket) -> None:
        await run_channel(socket, desk, key)

    files = PageFiles()

    async def files_first(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http" and files.has(scope["path"]):
            await files(scope, receive, send)
        else:
            await app(scope, receive, send)

    return Guard(files_first, port=port, key=key)
