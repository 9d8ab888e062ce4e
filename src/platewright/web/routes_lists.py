"""The job's lists, edited in place: the same faults as the files, nothing saved while there are any."""

from __future__ import annotations

import asyncio
from dataclasses import asdict

from fastapi import APIRouter, Request

from platewright.app.editing.edit import EditError
from platewright.app.lists import RECORDS, cells_of, content_hash, list_bytes
from platewright.web.requests import ListRequest
from platewright.web.routes import desk_of
from platewright.web.wire_format import Json

router = APIRouter(prefix="/api/list")


def _known(name: str) -> str:
    if name not in RECORDS:
        raise EditError("is no list of the job", where="list", cure="Use parts, devices or wires")
    return name


@router.get("/{name}")
async def read(request: Request, name: str) -> Json:
    """Return a list as cells."""
    return asdict(cells_of(_known(name), desk_of(request).session.content(name)))


@router.post("/{name}")
async def write(request: Request, name: str, asked: ListRequest) -> Json:
    """Save a whole list; refused when it changed since the page read it."""
    desk = desk_of(request)
    await asyncio.to_thread(desk.session.look_outside)
    old = desk.session.content(_known(name))
    if content_hash(old) != asked.hash:
        raise EditError(
            "was changed since this page read it", where=name, cure="Read it again, then edit"
        )
    content = list_bytes(name, asked.rows, old)
    label = asked.label or f"edit {name}"
    await asyncio.to_thread(desk.session.change_file, name, content, label)
    state = desk.changed(asked.client)
    return {"state": state, "list": asdict(cells_of(name, desk.session.content(name)))}
