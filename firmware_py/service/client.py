"""A client of the controller: asks for acts, watches the bench, and finds its way back to it."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import suppress
from dataclasses import dataclass
from functools import partial
from itertools import count
from pathlib import Path

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.run import AnyAct
from firmware_py.facts.views.bench import BenchView
from firmware_py.service.book_questions import AnyAnswer, AnyQuestion
from firmware_py.service.messages import (
    BEAT_S,
    PROTOCOL,
    UNSHOWN_S,
    Ask,
    Beat,
    Do,
    Done,
    FromController,
    Hello,
    Refusal,
    Seen,
    ToController,
    Told,
    Watch,
    Welcome,
)

ANSWER_S = 5.0
RETRY_S = 0.5
# A view of six lanes with all their marks stays far below this.
VIEW_LIMIT = 1024 * 1024

_decode = msgspec.json.Decoder(FromController).decode
_encode = msgspec.json.Encoder().encode


@dataclass(frozen=True, slots=True)
class LinkLost:
    """There is no controller at the other end just now, and why; ``frozen`` if it only does not answer."""

    why: str
    frozen: bool = False


class Client:
    """One connection, made again by itself. `watch` must be running for `do` to get its answers.

    It says that it lives after every ``pulse``: by itself every `BEAT_S` [s], or as that of whoever holds its
    keys. When it does not, what it lit goes out.
    """

    def __init__(
        self, path: Path, name: str = "screen", *, pulse: Callable[[], Awaitable[None]] | None = None
    ) -> None:
        self._path = path
        self._name = name
        self._pulse = pulse or partial(asyncio.sleep, BEAT_S)
        self._writer: asyncio.StreamWriter | None = None
        self._tickets = count(1)
        self._asked: dict[int, asyncio.Future[AnyAnswer | None]] = {}

    async def watch(self) -> AsyncIterator[BenchView | LinkLost]:
        """Give the bench's view whenever it changes, and `LinkLost` while there is none; for ever."""
        while True:
            try:
                async for view in self._one_connection():
                    yield view
                why = "the controller closed the line"
            except (OSError, asyncio.IncompleteReadError) as error:
                why = self._what_broke(error)
            except Refused as refusal:
                why = refusal.line
            except (msgspec.DecodeError, ValueError, asyncio.LimitOverrunError) as error:
                why = f"the controller speaks strangely ({error})"
            self._let_go(why)
            yield LinkLost(why)
            await asyncio.sleep(RETRY_S)

    async def do(self, act: AnyAct) -> None:
        """Ask for an act; return when it is in the book. Raises Refused with the controller's words."""
        await self._answered(Do(ticket=next(self._tickets), act=act))

    async def ask(self, question: AnyQuestion) -> AnyAnswer:
        """Ask the book; return what it says. Raises Refused with the controller's words."""
        answer = await self._answered(Ask(ticket=next(self._tickets), question=question))
        if answer is None:
            raise Refused("the controller gave no answer to the question")
        return answer

    async def _answered(self, message: Do | Ask) -> AnyAnswer | None:
        if self._writer is None:
            raise Refused("there is no line to the controller", allowed="once it runs again")
        ticket = message.ticket
        answer: asyncio.Future[AnyAnswer | None] = asyncio.get_running_loop().create_future()
        self._asked[ticket] = answer
        try:
            self._say(message)
            return await asyncio.wait_for(answer, ANSWER_S)
        except TimeoutError:
            raise Refused(f"the controller did not answer for {ANSWER_S:g} s") from None
        finally:
            self._asked.pop(ticket, None)

    def close(self) -> None:
        """Let the line go."""
        self._let_go("closed")

    async def _one_connection(self) -> AsyncIterator[BenchView | LinkLost]:
        reader, self._writer = await asyncio.open_unix_connection(self._path, limit=VIEW_LIMIT)
        self._say(Hello(protocol=PROTOCOL, client=self._name))
        self._say(Watch())
        beating = asyncio.get_running_loop().create_task(self._beat())
        try:
            async for view in self._views(reader):
                yield view
        finally:
            beating.cancel()

    async def _beat(self) -> None:
        """Say again and again that this program, and who holds its keys, lives."""
        while True:
            self._say(Beat())
            await self._pulse()

    async def _views(self, reader: asyncio.StreamReader) -> AsyncIterator[BenchView | LinkLost]:
        while True:
            reading = asyncio.ensure_future(reader.readline())
            try:
                if not (await asyncio.wait([reading], timeout=UNSHOWN_S))[0]:
                    # The line is kept: whoever holds it may only be frozen, and goes on where it was.
                    why = f"the controller does not answer (for more than {UNSHOWN_S:g} s)"
                    yield LinkLost(why, frozen=True)
                line = await reading
            finally:
                reading.cancel()
            if not line:
                return
            message = _decode(line)
            if isinstance(message, Seen):
                yield message.bench
            else:
                self._take(message)

    def _take(self, message: Welcome | Done | Refusal | Told) -> None:
        match message:
            case Done():
                self._settle(message.ticket, None)
            case Refusal(ticket=None):
                raise message.refused
            case Refusal():
                self._settle(message.ticket or 0, message.refused)
            case Told():
                self._settle(message.ticket, message.answer)
            case Welcome():
                pass

    def _what_broke(self, error: OSError | asyncio.IncompleteReadError) -> str:
        """Return what a system's word for a broken line means here."""
        match error:
            case FileNotFoundError() | ConnectionRefusedError():
                return f"no controller listens at {self._path}"
            case ConnectionError() | asyncio.IncompleteReadError():
                return "the controller closed the line"
            case PermissionError():
                return f"the controller at {self._path} belongs to another user"
            case _:
                return f"the line to {self._path} broke ({error.strerror or error})"

    def _say(self, message: ToController) -> None:
        if self._writer is not None:
            self._writer.write(_encode(message) + b"\n")

    def _settle(self, ticket: int, told: AnyAnswer | Refused | None) -> None:
        answer = self._asked.get(ticket)
        if answer is None or answer.done():
            return
        if isinstance(told, Refused):
            answer.set_exception(told)
        else:
            answer.set_result(told)

    def _let_go(self, why: str) -> None:
        if self._writer is not None:
            with suppress(OSError):
                self._writer.close()
            self._writer = None
        for answer in self._asked.values():
            if not answer.done():
                answer.set_exception(Refused(f"not known whether it was done: {why}"))
