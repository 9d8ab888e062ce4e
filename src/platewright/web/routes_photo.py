"""The picture of the plate as it stands, under the drawing. It stays in the job folder."""

from __future__ import annotations

import asyncio
from dataclasses import asdict

from fastapi import APIRouter, Request, Response

from platewright.app import photo
from platewright.app.edit import EditError
from platewright.web.requests import CornersRequest
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
    return {"size": size, "corners": corners, "fit": asdict(fit) if fit else None}


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
    fit = await asyncio.to_thread(photo.keep_corners, session.folder, places, plate)
    size = photo.picture_size(session.folder)
    return {"size": size, "corners": places, "fit": asdict(fit)}


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
