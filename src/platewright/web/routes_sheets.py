"""The sheets: what there is, each page as a picture, every file to take away."""

from __future__ import annotations

import asyncio
from typing import Final

from fastapi import APIRouter, Request, Response

from platewright.app.editing.edit import EditError
from platewright.app.live.checked import Checked
from platewright.drawing.svg import write_svg
from platewright.sheets.documents import document
from platewright.sheets.registry import listings, sheets
from platewright.web.routes import desk_of
from platewright.web.wire_format import Json

router = APIRouter(prefix="/api/sheets")

KINDS: Final = {
    "pdf": "application/pdf",
    "svg": "image/svg+xml",
    "png": "image/png",
    "csv": "text/csv; charset=utf-8",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "dxf": "image/vnd.dxf",
}


def _checked(request: Request) -> Checked:
    done = desk_of(request).checker.latest
    if done is None:
        raise EditError("the checks are not done yet", where="sheets", cure="Wait a moment")
    return done


@router.get("")
async def what_there_is(request: Request) -> Json:
    """Return the sheets and lists by name."""
    done = _checked(request)
    return {
        "revision": done.revision,
        "sheets": [{"id": name, "title": one.title} for name, one in sheets().items()],
        "lists": [{"id": name, "title": one.title} for name, one in listings().items()],
    }


@router.get("/{name}/pages")
async def pages(request: Request, name: str) -> list[str]:
    """Return every page of one sheet as SVG text. The page shows it as a picture only."""
    if name not in sheets():
        raise EditError("there is no such sheet", where=name, cure="Choose one of the list")
    return await asyncio.to_thread(_drawn, _checked(request), name)


def _drawn(done: Checked, name: str) -> list[str]:
    pictures = sheets()[name].draw(done.panel, done.findings)
    return [write_svg(picture).decode() for picture in pictures]


@router.get("/file/{name}")
async def file(request: Request, name: str) -> Response:
    """Return one file of the package, made from the state as it is checked now."""
    made = await asyncio.to_thread(_made, _checked(request), name)
    if made is None:
        raise EditError("there is no such file", where=name, cure="Choose one of the list")
    kind = KINDS.get(name.rpartition(".")[2], "application/octet-stream")
    told = {"content-disposition": f'attachment; filename="{name}"'}
    return Response(made, media_type=kind, headers=told)


def _made(done: Checked, name: str) -> bytes | None:
    return document(done.panel, done.findings, name)
