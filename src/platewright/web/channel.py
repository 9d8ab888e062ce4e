"""The live channel: one socket a page, news one way, drags the other, newest position wins."""

from __future__ import annotations

import asyncio
import contextlib
import json
import secrets
import time
from dataclasses import replace
from typing import Final

from fastapi import WebSocket, WebSocketDisconnect
from pydantic import ValidationError

from platewright.app.live.drag import Drag
from platewright.app.live.heat import LiveHeat
from platewright.web.desk import Desk
from platewright.web.requests import DragMessage
from platewright.web.wire_format import Json, frame_record
from platewright.web.wire_heat import live_record

GREETING = 10.0  # seconds a page has to give its key
PAUSE: Final = 0.03  # seconds at least from one answer of heat to the next question
REST: Final = 1.0  # of the time an answer of heat took: so long the page's own work goes first


async def run_channel(socket: WebSocket, desk: Desk, key: str) -> None:
    """Serve one page until it goes."""
    await socket.accept()
    if not await _is_greeted(socket, key):
        await socket.close(4401)
        return
    queue: asyncio.Queue[Json] = asyncio.Queue()
    desk.pages.add(queue)
    sender = asyncio.create_task(_send(socket, queue))
    try:
        await _listen(socket, desk, queue)
    finally:
        desk.pages.discard(queue)
        sender.cancel()
        with contextlib.suppress(asyncio.CancelledError, RuntimeError, WebSocketDisconnect):
            await sender


async def _is_greeted(socket: WebSocket, key: str) -> bool:
    try:
        greeting = json.loads(await asyncio.wait_for(socket.receive_text(), GREETING))
        return secrets.compare_digest(str(greeting.get("key", "")).encode(), key.encode())
    except (ValueError, AttributeError, TimeoutError, WebSocketDisconnect, KeyError):
        return False


async def _send(socket: WebSocket, queue: asyncio.Queue[Json]) -> None:
    while True:
        await socket.send_text(json.dumps(await queue.get(), separators=(",", ":")))


async def _listen(socket: WebSocket, desk: Desk, queue: asyncio.Queue[Json]) -> None:
    hand, warmth = Hand(desk), Warmth(desk, queue)
    while True:
        try:
            text = await socket.receive_text()
        except (WebSocketDisconnect, RuntimeError, KeyError):
            return
        try:
            message = DragMessage.model_validate_json(text)
        except ValidationError:
            queue.put_nowait({"type": "trouble", "problem": "the message is not understood",
                              "where": "live", "cure": "Load the page again"})  # fmt: skip
            continue
        answer = await asyncio.to_thread(hand.follow, message)
        queue.put_nowait({"type": "live", "n": message.n, "live": answer})
        if message.heat:
            warmth.ask(message)


class Hand:
    """What one page has in its hand; made ready once, then asked again and again."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.drag: Drag | None = None
        self.holds: tuple[object, ...] = ()

    def follow(self, message: DragMessage) -> Json | None:
        """Return what follows from the newest position; ``None`` before the first check."""
        done, now = self.desk.checker.latest, self.desk.session.snapshot()
        if done is None or len(message.at) != len(message.tags):
            return None
        is_fresh = done.revision == now.revision
        holds = (tuple(message.tags), now.revision, is_fresh)
        if self.drag is None or holds != self.holds:
            panel = replace(done.panel, job=now.job, layout=now.layout)
            self.drag = Drag(panel, done.base if is_fresh else None, message.tags)
            self.holds = holds
        if not self.drag.tags or len(self.drag.tags) != len(message.tags):
            return None
        return frame_record(self.drag.frame(message.at))


class Warmth:
    """Heat that follows what one page has in its hand: the newest place only, never two at once."""

    def __init__(self, desk: Desk, queue: asyncio.Queue[Json]) -> None:
        self.desk, self.queue = desk, queue
        self.newest: DragMessage | None = None
        self.work: asyncio.Task[None] | None = None
        self.live: LiveHeat | None = None
        self.holds: tuple[object, ...] = ()

    def ask(self, message: DragMessage) -> None:
        """Take over the newest place; begin to answer unless that is under way."""
        self.newest = message
        if self.work is None or self.work.done():
            self.work = asyncio.create_task(self._answer())

    async def _answer(self) -> None:
        while self.newest is not None:
            message, self.newest = self.newest, None
            begin = time.perf_counter()
            answer = await asyncio.to_thread(self.follow, message)
            if answer is not None:
                self.queue.put_nowait({"type": "warm", "n": message.n, "heat": answer})
            spent = time.perf_counter() - begin
            await asyncio.sleep(max(PAUSE, REST * spent))

    def follow(self, message: DragMessage) -> Json | None:
        """Return how warm it gets with the things at a place; ``None`` before the first check."""
        done, now = self.desk.checker.latest, self.desk.session.snapshot()
        if done is None or len(message.at) != len(message.tags):
            return None
        holds = (tuple(message.tags), now.revision, done.revision)
        if self.live is None or holds != self.holds:
            panel = replace(done.panel, job=now.job, layout=now.layout)
            self.live, self.holds = LiveHeat(panel, message.tags), holds
        if not self.live.tags or len(self.live.tags) != len(message.tags):
            return None
        return live_record(self.live.at(message.at), message.heat)
