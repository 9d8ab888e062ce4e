"""How warm everything gets, as last checked."""

from __future__ import annotations

import asyncio
from typing import Any

from fastapi import APIRouter, Request

from platewright.app.live.checked import Checked
from platewright.heat.panel_heat import heat_of
from platewright.web.routes import desk_of
from platewright.web.wire_format import Json
from platewright.web.wire_heat import heat_record

router = APIRouter(prefix="/api/heat")


@router.get("")
async def heat(request: Request) -> Any:
    """Return the heat of the newest checked plate; ``null`` before the first check."""
    done = desk_of(request).checker.latest
    return None if done is None else await asyncio.to_thread(_told, done)


def _told(done: Checked) -> Json:
    return {"revision": done.revision, **heat_record(done.panel, heat_of(done.panel))}
