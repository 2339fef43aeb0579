"""What lies at the socket's path: only a socket of ours is ever removed."""

from __future__ import annotations

import asyncio
import os
import socket
from pathlib import Path
from typing import cast

import pytest

from firmware_py.bench.controller import Controller
from firmware_py.craft.refusal import Refused
from firmware_py.journal.store import Journal
from firmware_py.service.server import Service, check_socket_path

NO_CONTROLLER = cast("Controller", None)  # nobody connects here


async def _listen(path: Path) -> None:
    service = Service(NO_CONTROLLER, path)
    await service.start()
    await service.close()


def test_a_journal_at_the_path_of_the_socket_is_left_as_it_is(tmp_path: Path):
    path = tmp_path / "journal.db"
    with Journal.open(path):
        before = path.read_bytes()
        with pytest.raises(Refused, match="no socket"):
            asyncio.run(_listen(path))
        assert path.read_bytes() == before


@pytest.mark.parametrize("kind", ["file", "folder", "fifo", "link to a file", "dangling link"])
def test_only_a_socket_is_removed(tmp_path: Path, kind: str):
    path = tmp_path / "bench.sock"
    match kind:
        case "file":
            path.write_text("mine")
        case "folder":
            path.mkdir()
        case "fifo":
            os.mkfifo(path)
        case "link to a file":
            (tmp_path / "kept").write_text("mine")
            path.symlink_to(tmp_path / "kept")
        case _:
            path.symlink_to(tmp_path / "nowhere")
    before = path.lstat()
    with pytest.raises(Refused, match="no socket"):
        asyncio.run(_listen(path))
    assert path.lstat().st_ino == before.st_ino


def test_a_socket_of_another_user_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    path = tmp_path / "bench.sock"
    with socket.socket(socket.AF_UNIX) as other:
        other.bind(str(path))
    own = os.getuid()
    monkeypatch.setattr(os, "getuid", lambda: own + 1)
    with pytest.raises(Refused, match="another user"):
        check_socket_path(path)
    assert path.exists()


def test_a_socket_that_a_dead_controller_left_is_taken_over_and_gone_afterwards(tmp_path: Path):
    path = tmp_path / "bench.sock"
    with socket.socket(socket.AF_UNIX) as dead:
        dead.bind(str(path))
    asyncio.run(_listen(path))
    assert not path.exists()


def test_what_came_to_the_path_meanwhile_is_not_removed_at_the_end(tmp_path: Path):
    path = tmp_path / "bench.sock"

    async def play() -> None:
        service = Service(NO_CONTROLLER, path)
        await service.start()
        path.unlink()
        path.write_text("mine")
        await service.close()

    asyncio.run(play())
    assert path.read_text() == "mine"
