"""The controller's end of the socket: who may come in, and how all are let go."""

from __future__ import annotations

import asyncio
import os
import socket
import stat
import struct
from contextlib import suppress
from pathlib import Path

from firmware_py.bench.controller import Controller
from firmware_py.craft.refusal import Refused
from firmware_py.service.bookshelf import Bookshelf
from firmware_py.service.messages import LINE_LIMIT, Refusal
from firmware_py.service.served_client import ServedClient

MOST_CLIENTS = 16


class Service:
    """Serves one controller on a Unix socket that only its own user can open."""

    def __init__(self, controller: Controller, path: Path, shelf: Bookshelf | None = None) -> None:
        self._controller = controller
        self._path = path
        self._shelf = shelf
        self._server: asyncio.Server | None = None
        self._clients: dict[asyncio.Task[None], ServedClient] = {}
        self._met_one = asyncio.Event()
        self._made: tuple[int, int] | None = None

    async def start(self) -> None:
        """Begin to listen. Raises Refused when another controller does, or the path cannot be used.

        A socket that a dead controller left is removed; any other file there is left as it is, and refused.
        """
        check_socket_path(self._path)
        if await _answers(self._path):
            raise Refused("another controller listens there", where=str(self._path))
        try:
            self._path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            if _file_at(self._path) is not None:
                self._path.unlink()
            before = os.umask(0o177)
            try:
                self._server = await asyncio.start_unix_server(self._met, self._path, limit=LINE_LIMIT)
            finally:
                os.umask(before)
            self._made = _file_at(self._path)
        except OSError as error:
            raise Refused(f"cannot listen ({error.strerror})", where=str(self._path)) from error

    async def is_alone_for(self, seconds: float) -> bool:
        """Return whether no client came within ``seconds`` [s]; waits for the present ones to leave first."""
        while self._clients:
            await asyncio.wait(self._clients)
        self._met_one.clear()
        try:
            await asyncio.wait_for(self._met_one.wait(), seconds)
        except TimeoutError:
            return True
        return False

    async def close(self) -> None:
        """Stop listening and let every client go."""
        if self._server is not None:
            self._server.close()
        for task in list(self._clients):
            task.cancel()
            with suppress(asyncio.CancelledError):
                await task
        with suppress(
            OSError, Refused
        ):  # in a folder that can not be written any more, the next start takes it over
            if self._made is not None and _file_at(self._path) == self._made:
                self._path.unlink()

    async def _met(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        task = asyncio.current_task()
        if task is None:
            raise AssertionError("a client is served by a task")
        client = self._clients[task] = ServedClient(self._controller, self._shelf, reader, writer)
        self._met_one.set()
        try:
            if not self._has_room():
                await client.say(Refusal(what=f"there are {MOST_CLIENTS} screens already"))
            elif not _same_user(writer):
                await client.say(Refusal(what="this bench belongs to another user"))
            else:
                await client.serve()
        except (ConnectionError, TimeoutError):
            pass
        except asyncio.CancelledError:
            # Only `close` cancels. asyncio's own callback would print a cancelled client as an error (3.11).
            pass
        finally:
            del self._clients[task]
            client.drop()

    def _has_room(self) -> bool:
        """Return whether the newest client may stay: where all places are taken, the most silent one goes."""
        present = [each for each in self._clients.values() if not each.dropped]
        if len(present) <= MOST_CLIENTS:
            return True
        silent = [each for each in present if each.gives_way()]
        if silent:
            min(silent, key=lambda each: each.heard_s).drop()
        return bool(silent)


def check_socket_path(path: Path) -> None:
    """Refuse a path that cannot be a socket of ours: too long for the kernel (107 bytes), or another file."""
    length = len(os.fsencode(path))
    if length > 107:
        raise Refused(f"socket path has {length} bytes", where=str(path), allowed="up to 107")
    with suppress(OSError):  # what cannot be looked at is refused when it is made
        _require_ours(path, path.lstat())


def _require_ours(path: Path, found: os.stat_result) -> None:
    """Refuse a file that is no socket, or another user's: it would have to be removed to listen there."""
    allowed = "a name that no other file has"
    if not stat.S_ISSOCK(found.st_mode):
        raise Refused("there is a file already that is no socket", where=str(path), allowed=allowed)
    if found.st_uid != os.getuid():
        raise Refused("there is a socket of another user", where=str(path), allowed=allowed)


def _file_at(path: Path) -> tuple[int, int] | None:
    """Return device and inode of our socket at ``path``, None where nothing is; refuse any other file."""
    try:
        found = path.lstat()
    except FileNotFoundError:
        return None
    _require_ours(path, found)
    return found.st_dev, found.st_ino


async def _answers(path: Path) -> bool:
    try:
        _, writer = await asyncio.open_unix_connection(path)
    except OSError:
        return False
    writer.close()
    return True


def _same_user(writer: asyncio.StreamWriter) -> bool:
    peer: socket.socket = writer.get_extra_info("socket")
    _, uid, _ = struct.unpack("3i", peer.getsockopt(socket.SOL_SOCKET, socket.SO_PEERCRED, 12))
    return uid in {os.getuid(), 0}
