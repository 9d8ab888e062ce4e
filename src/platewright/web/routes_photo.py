"""The picture of the plate as it stands, under the drawing. It stays in the job folder."""

from __future__ import annotations

import asyncio
from dataclasses import asdict, replace
from pathlib import Path

from fastapi import APIRouter, Request, Response

from platewright.app.editing import photo, photo_checks
from platewright.app.editing.edit import EditError
from platewright.web.requests import ChecksRequest, CornersRequest, SeenRequest
from platewright.web.routes import desk_of
from platewright.web.wire_format import Json

router = APIRouter(prefix="/api/photo")


@router.get("")
async def what_there_is(request: Request) -> Json:
    """Return the picture's size, its corners and how well they fit."""
    session = desk_of(request).session
    size, corners = photo.picture_size(session.folder), photo.kept_corners(session.folder)
    plate = session.snapshot().job.settings.plate
    fit = photo.fit_of(corners, plate, size) if size and corners else None
    found = {"size": size, "corners": corners, "fit": asdict(fit) if fit else None}
    if corners is None:
        return found
    checks = photo_checks.kept_checks(session.folder)
    return {
        **found, **asdict(checks), "trust": asdict(photo_checks.trust_of(corners, plate, checks))
    }  # fmt: skip


@router.put("")
async def keep(request: Request) -> Json:
    """Keep a picture; the guard has bounded it."""
    body = await request.body()
    size = await asyncio.to_thread(photo.keep_picture, desk_of(request).session.folder, body)
    return {"size": size, "corners": None, "fit": None}


@router.post("/corners")
async def corners(request: Request, asked: CornersRequest) -> Json:
    """Keep where the plate's corners are in the picture."""
    session = desk_of(request).session
    places = tuple((x, y) for x, y in asked.corners)
    plate = session.snapshot().job.settings.plate
    kept = photo_checks.kept_checks(session.folder)
    await asyncio.to_thread(photo.keep_corners, session.folder, places, plate)
    await asyncio.to_thread(photo_checks.keep_checks, session.folder, kept)
    return await what_there_is(request)


@router.post("/checks")
async def checks(request: Request, asked: ChecksRequest) -> Json:
    """Keep what was marked beyond the corners; return how far it is from what is known."""
    folder = desk_of(request).session.folder
    _marked(folder)
    known = tuple(
        photo_checks.Known(start=k.start, end=k.end, length=k.length) for k in asked.known
    )
    kept = replace(
        photo_checks.kept_checks(folder),
        edges={str(k): v for k, v in asked.edges.items()},
        known=known,
    )
    await asyncio.to_thread(photo_checks.keep_checks, folder, kept)
    return await what_there_is(request)


def _marked(folder: Path) -> None:
    if photo.kept_corners(folder) is None:
        raise EditError("the corners are not known", where="photo", cure="Click the four corners")


@router.get("/compare")
async def compare(request: Request) -> list[Json]:
    """Return every device of the plate as planned and as seen in the photo."""
    session = desk_of(request).session
    now = session.snapshot()
    seen = photo_checks.kept_checks(session.folder).seen
    tags = [device.tag for device in now.job.on_plate]
    return photo_checks.differences(now.job, now.layout, seen, tags)


@router.post("/seen")
async def seen(request: Request, asked: SeenRequest) -> list[Json]:
    """Keep where devices were seen; the plan stays as it is."""
    folder = desk_of(request).session.folder
    _marked(folder)
    kept = replace(photo_checks.kept_checks(folder), seen=dict(asked.seen))
    await asyncio.to_thread(photo_checks.keep_checks, folder, kept)
    return await compare(request)


@router.post("/take-over")
async def take_over(request: Request, asked: SeenRequest) -> Json:
    """Put devices where they were seen and lock them there, as one step."""
    desk = desk_of(request)
    tags = ", ".join(asked.seen) if len(asked.seen) <= 3 else f"{len(asked.seen)} devices"
    notes = await asyncio.to_thread(
        desk.session.change, f"take over {tags} from the photo",
        lambda job, layout: photo_checks.taken_over(job, layout, asked.seen),
    )  # fmt: skip
    return {"state": desk.changed(asked.client), "notes": notes}


@router.get("/picture")
async def picture(request: Request) -> Response:
    """Return the picture as it was taken, upright."""
    path = desk_of(request).session.folder / photo.PICTURE
    if photo.picture_size(desk_of(request).session.folder) is None:
        raise EditError("there is no picture", where="photo", cure="Choose one first")
    return Response(path.read_bytes(), media_type="image/jpeg")


@router.get("/straight")
async def straight(request: Request) -> Response:
    """Return the plate's face at true scale."""
    session = desk_of(request).session
    plate = session.snapshot().job.settings.plate
    found = await asyncio.to_thread(photo.straightened, session.folder, plate)
    if found is None:
        raise EditError("the corners are not known", where="photo", cure="Click the four corners")
    return Response(found, media_type="image/jpeg")


@router.delete("")
async def drop(request: Request) -> Json:
    """Take the picture out of the job folder."""
    photo.drop_picture(desk_of(request).session.folder)
    return {"size": None, "corners": None, "fit": None}
