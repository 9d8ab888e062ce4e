"""The job's settings as a form or as text: the file's own faults, nothing saved while there are any."""

from __future__ import annotations

import asyncio
from dataclasses import asdict

from fastapi import APIRouter, Request

from platewright.app.editing.edit import EditError
from platewright.app.editing.settings_form import Row, form_of, with_cells
from platewright.app.lists import content_hash
from platewright.foundation.tag_order import listed
from platewright.jobfile.folder import SETTINGS
from platewright.jobfile.toml_text import as_before
from platewright.web.requests import SettingsRequest
from platewright.web.routes import desk_of
from platewright.web.wire_format import Json

router = APIRouter(prefix="/api/settings")


def _record(content: bytes) -> Json:
    text = content.decode("utf-8-sig", errors="replace").replace("\r\n", "\n")
    return {"form": asdict(form_of(content)), "text": text, "hash": content_hash(content)}


@router.get("")
async def read(request: Request) -> Json:
    """Return ``job.toml`` as sections and lists, and as text."""
    return _record(desk_of(request).session.content(SETTINGS))


@router.post("")
async def write(request: Request, asked: SettingsRequest) -> Json:
    """Save the settings; refused when the file changed since the page read it."""
    desk = desk_of(request)
    await asyncio.to_thread(desk.session.look_outside)
    old = desk.session.content(SETTINGS)
    if content_hash(old) != asked.hash:
        raise EditError(
            "was changed since this page read it", where=SETTINGS, cure="Read it again, then edit"
        )
    if asked.text is not None:
        content, label = as_before(old, asked.text), f"edit {SETTINGS}"
    else:
        lists = {
            path: [Row(was=row.was, cells=row.cells) for row in rows]
            for path, rows in asked.lists.items()
        }
        try:
            content = with_cells(old, asked.cells, lists)
        except KeyError as unknown:
            raise EditError(
                "is no key of the settings", where=str(unknown.args[0]), cure="Load the page again"
            ) from unknown
        label = f"edit {SETTINGS}: {listed([*asked.cells, *asked.lists], 2)}"
    await asyncio.to_thread(desk.session.change_file, SETTINGS, content, label)
    return {"state": desk.changed(asked.client), **_record(desk.session.content(SETTINGS))}
