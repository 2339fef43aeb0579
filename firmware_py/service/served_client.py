"""One client of the controller: its lines are answered, and none of it can hold up the bench."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Coroutine
from contextlib import suppress

import msgspec

from firmware_py import __version__
from firmware_py.bench.controller import Controller
from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import BootClock
from firmware_py.facts.acts.book import BookAct
from firmware_py.service.bookshelf import Bookshelf
from firmware_py.service.ending import require_may_end
from firmware_py.service.lease import Lease
from firmware_py.service.messages import (
    LINE_LIMIT,
    PROTOCOL,
    SHOW_S,
    SILENT_S,
    Ask,
    Beat,
    Do,
    Done,
    End,
    FromController,
    Hello,
    Look,
    Refusal,
    Seen,
    ToController,
    Told,
    Watch,
    Welcome,
)
from firmware_py.service.notify import manager

# A client that takes nothing for this long is dropped; the bench never waits for it.
DRAIN_S = 2.0
# A client that has not introduced itself by then is dropped.
HELLO_S = 5.0
# What a client may leave unread before its further words wait: a view is a few kB.
UNREAD_LIMIT = 32 * 1024
# Acts whose answer still waits for the book; a client that asks for more than this waits with it.
MOST_UNANSWERED = 32

log = logging.getLogger("embertray.service")
_decode = msgspec.json.Decoder(ToController).decode
_encode = msgspec.json.Encoder().encode


class ServedClient:
    """A client with its line, from its greeting until it goes or is dropped."""

    def __init__(
        self,
        controller: Controller,
        shelf: Bookshelf | None,
        reader: asyncio.StreamReader,
        writer: asyncio.StreamWriter,
    ) -> None:
        self._controller = controller
        self._shelf = shelf
        self._reader = reader
        self._writer = writer
        self._watching: asyncio.Task[None] | None = None
        self._doing: set[asyncio.Task[None]] = set()
        self._lease = Lease(controller)
        self._greeted = False
        self._clock = BootClock()
        self.heard_s = self._clock.now_s()
        self.dropped = False
        self._greeting_due = asyncio.get_running_loop().call_later(HELLO_S, self._require_greeting)
        writer.transport.set_write_buffer_limits(high=UNREAD_LIMIT)

    async def serve(self) -> None:
        """Answer the client's lines until it goes."""
        while (line := await self._line()) is not None:
            self.heard_s = self._clock.now_s()
            if not line.strip():
                continue
            try:
                await self._answer(_decode(line))
            except (msgspec.DecodeError, UnicodeError) as error:
                await self.say(Refusal(what=f"line not understood: {error}"))
            except RecursionError:
                await self.say(Refusal(what="line not understood: nested too deeply"))

    async def say(self, message: FromController) -> None:
        """Send one line; a client that takes none for `DRAIN_S` [s] is dropped (TimeoutError)."""
        self._writer.write(_encode(message) + b"\n")
        await asyncio.wait_for(self._writer.drain(), DRAIN_S)

    def drop(self) -> None:
        """Let the client go at once, whatever it has not read; what it lit goes out."""
        self.dropped = True
        self._greeting_due.cancel()
        self._lease.end()
        for task in (self._watching, *self._doing):
            if task is not None:
                task.cancel()
        if self._writer.transport.get_write_buffer_size():
            self._writer.transport.abort()
        else:
            self._writer.close()

    def gives_way(self) -> bool:
        """Return whether it may be dropped for another: it says nothing, as no screen does, and lit none."""
        return not self._lease.holds() and self._clock.now_s() - self.heard_s >= SILENT_S

    def _require_greeting(self) -> None:
        if not self._greeted:
            self.drop()

    async def _line(self) -> bytes | None:
        try:
            line = await self._reader.readuntil(b"\n")
        except asyncio.IncompleteReadError:
            return None
        except asyncio.LimitOverrunError:
            # The rest of such a line can not be told from the next one: say so and part.
            await self.say(Refusal(what=f"line longer than {LINE_LIMIT} bytes"))
            return None
        return line

    async def _answer(self, message: ToController) -> None:
        if isinstance(message, Hello):
            await self._greet(message)
        elif not self._greeted:
            await self.say(Refusal(what='say {"message":"hello","protocol":' + str(PROTOCOL) + "} first"))
        elif isinstance(message, Beat):
            self._lease.beat()
        elif isinstance(message, Do):
            await self._do(message)
        elif isinstance(message, Ask):
            await self._answer_later(self._look_up(message))
        elif isinstance(message, End):
            await self._end(message)
        elif isinstance(message, Look):
            await self.say(Seen(bench=self._controller.view()))
        elif isinstance(message, Watch) and self._watching is None:
            self._watching = asyncio.create_task(self._keep_showing())

    async def _greet(self, hello: Hello) -> None:
        if hello.protocol != PROTOCOL:
            what = f"protocol {hello.protocol} is not known here"
            await self.say(Refusal(what=what, allowed=str(PROTOCOL), kind="wrong input"))
            return
        self._greeted = True
        rehearsal = self._controller.bench.plan.rehearsal
        managed = bool(manager().address)
        await self.say(Welcome(protocol=PROTOCOL, program=__version__, rehearsal=rehearsal, managed=managed))

    async def _end(self, message: End) -> None:
        """End the controller, once the answer is on its way; not while a plate is open, unless anyway."""
        try:
            if not message.anyway:
                require_may_end(self._controller)
        except Refused as refused:
            await self._tell(message.ticket, refused)
            return
        await self._tell(message.ticket, None)
        self._controller.stop("a command asked for it")

    async def _do(self, message: Do) -> None:
        """Do at once what is asked; the answer may wait for the book, but the client's next line does not."""
        if isinstance(message.act, BookAct):
            await self._answer_later(self._do_in_book(message.ticket, message.act))
            return
        before, refusal = self._controller.lit_for, None
        try:
            self._controller.act(message.act)
        except Refused as refused:
            refusal = refused
            log.info("refused: %s (%s)", type(message.act).__name__, type(refused).__name__)
        self._lease.look(before)
        await self._answer_later(self._tell(message.ticket, refusal))

    async def _answer_later(self, telling: Coroutine[None, None, None]) -> None:
        if len(self._doing) >= MOST_UNANSWERED:
            await asyncio.wait(self._doing, return_when=asyncio.FIRST_COMPLETED)
        task = asyncio.get_running_loop().create_task(telling)
        self._doing.add(task)
        task.add_done_callback(self._doing.discard)

    async def _do_in_book(self, ticket: int, act: BookAct) -> None:
        """Do what needs a page of the book that is not at hand: it is read first."""
        refusal = None
        try:
            await self._controller.recall(act)
            self._controller.act(act)
        except Refused as refused:
            refusal = refused
        await self._tell(ticket, refusal)

    async def _look_up(self, message: Ask) -> None:
        """Ask the book, on a thread: no reader of it holds up the bench."""
        if self._shelf is None:
            await self._say_or_drop(Refusal(what="there is no book to ask", ticket=message.ticket))
            return
        try:
            answer = await asyncio.to_thread(self._shelf.answer, message.question)
        except Refused as refused:
            await self._say_or_drop(Refusal.of(refused, message.ticket))
        else:
            await self._say_or_drop(Told(ticket=message.ticket, answer=answer))

    async def _say_or_drop(self, message: FromController) -> None:
        try:
            await self.say(message)
        except (ConnectionError, TimeoutError):
            self.drop()

    async def _tell(self, ticket: int, refusal: Refused | None) -> None:
        """Answer once the act is in the book, or at once where it was refused."""
        try:
            if refusal is None:
                await self._controller.kept()
        except Refused as refused:
            refusal = refused
        told = Done(ticket=ticket) if refusal is None else Refusal.of(refusal, ticket)
        await self._say_or_drop(told)

    async def _keep_showing(self) -> None:
        revision = -1
        with suppress(ConnectionError, TimeoutError):
            while True:
                with suppress(TimeoutError):
                    revision = await asyncio.wait_for(self._controller.changed_since(revision), SHOW_S)
                await self.say(Seen(bench=self._controller.view()))
        self.drop()
