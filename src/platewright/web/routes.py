"""Every address of the server under /api: gather from the desk, answer in the wire format."""

from __future__ import annotations

import asyncio

from fastapi import APIRouter, Request, Response
from fastapi.responses import JSONResponse

from platewright.app.editing.edit import EditError
from platewright.model.finding import Verdict
from platewright.web.desk import Desk
from platewright.web.errors import told
from platewright.web.requests import CureRequest, EditRequest, PlanRequest, StepRequest, TakeRequest
from platewright.web.wire_format import Json, findings_record, wires_record

router = APIRouter(prefix="/api")
OVERTAKEN = (
    "The plate was edited after this plan began: those edits are not in it. Undo brings them back."
)


def desk_of(request: Request) -> Desk:
    """Return the desk this server works at."""
    desk: Desk = request.app.state.desk
    return desk


@router.get("/job")
async def job(request: Request) -> Json:
    """Return all a page needs to begin."""
    return await asyncio.to_thread(desk_of(request).everything)


@router.get("/hello")
async def hello(request: Request) -> Json:
    """Return what a page that comes (back) compares with what it has."""
    return desk_of(request).hello()


@router.post("/edit")
async def edit(request: Request, asked: EditRequest) -> Json:
    """Do one edit."""
    desk = desk_of(request)
    notes = await asyncio.to_thread(desk.session.apply, asked.edit)
    return {"state": desk.changed(asked.client), "notes": notes}


@router.post("/undo")
async def undo(request: Request, asked: StepRequest) -> Json:
    """Take back the last step."""
    desk = desk_of(request)
    label = await asyncio.to_thread(desk.session.undo)
    return {"state": desk.changed(asked.client), "notes": [f"undone: {label}"]}


@router.post("/redo")
async def redo(request: Request, asked: StepRequest) -> Json:
    """Do again what was undone."""
    desk = desk_of(request)
    label = await asyncio.to_thread(desk.session.redo)
    return {"state": desk.changed(asked.client), "notes": [f"done again: {label}"]}


@router.post("/put-back")
async def put_back(request: Request, asked: StepRequest) -> Json:
    """Write the last good state over files that were given faults from outside."""
    desk = desk_of(request)
    kept = await asyncio.to_thread(desk.session.put_back)
    notes = [f"the other version is kept as {name}" for name in kept]
    return {"state": desk.changed(asked.client), "notes": notes}


@router.post("/read-notices")
async def read_notices(request: Request, asked: StepRequest) -> Json:
    """Put away what has been read."""
    desk = desk_of(request)
    desk.session.notices.clear()
    return {"state": desk.changed(asked.client), "notes": []}


@router.get("/passed")
async def passed(request: Request) -> list[Json]:
    """Return what the checks found to be within limits: the evidence."""
    done = desk_of(request).checker.latest
    if done is None:
        return []
    return findings_record(done.findings, (Verdict.PASS,))


@router.post("/cure")
async def cure(request: Request, asked: CureRequest) -> Json:
    """Return steps that cure a finding, tried and judged; none: nothing tried does."""
    desk = desk_of(request)
    found = await asyncio.to_thread(desk.cure, asked.revision, asked.number)
    if found is None:
        return {"words": "", "fails": None, "cautions": None}
    return {"words": found.words, "fails": found.fails, "cautions": found.cautions}


@router.post("/cure/do")
async def cure_do(request: Request, asked: CureRequest) -> Json:
    """Do the steps that cure a finding, as one step that can be undone."""
    desk = desk_of(request)
    found = await asyncio.to_thread(desk.cure, asked.revision, asked.number)
    if found is None:
        raise EditError("no cure is at hand", where="cure", cure="Look at the finding again")
    label = f"cure: {found.words}"
    await asyncio.to_thread(desk.session.apply_all, found.steps, label, revision=asked.revision)
    return {"state": desk.changed(asked.client), "notes": []}


@router.get("/wires")
async def wires(request: Request) -> list[Json]:
    """Return every wire with its way."""
    done = desk_of(request).checker.latest
    return wires_record(done.panel) if done else []


@router.post("/plan", response_model=None)
async def plan(request: Request, asked: PlanRequest) -> Response:
    """Begin a plan."""
    desk = desk_of(request)
    if not await asyncio.to_thread(desk.start_plan, asked.how, asked.seed, asked.preset):
        return _busy()
    return JSONResponse({"started": True})


@router.post("/plan/compare", response_model=None)
async def plan_compare(request: Request, asked: StepRequest) -> Response:  # noqa: ARG001
    """Begin to plan by every preset."""
    if not await asyncio.to_thread(desk_of(request).start_comparison, 1):
        return _busy()
    return JSONResponse({"started": True})


def _busy() -> Response:
    return told(409, "another plan is under way", "plan", "Stop it first")


@router.post("/plan/stop")
async def plan_stop(request: Request, asked: StepRequest) -> Json:  # noqa: ARG001
    """End the search; the best plate so far stays on offer."""
    desk_of(request).stop()
    return {}


@router.post("/plan/take")
async def plan_take(request: Request, asked: TakeRequest) -> Json:
    """Replace the layout by the plan, or by a plate of the comparison."""
    desk = desk_of(request)
    notes = [OVERTAKEN] if desk.was_edited else []
    if asked.name:
        took = await asyncio.to_thread(desk.take_compared, asked.name)
    else:
        took = await asyncio.to_thread(desk.take_plan)
    if not took:
        raise EditError("there is no plan to take", where="plan", cure="Start one first")
    return {"state": desk.changed(asked.client), "notes": notes}


@router.post("/plan/drop")
async def plan_drop(request: Request, asked: StepRequest) -> Json:  # noqa: ARG001
    """Forget the plan; the layout stays as it is."""
    desk_of(request).drop_plan()
    return {}
