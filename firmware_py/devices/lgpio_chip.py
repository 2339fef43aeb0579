"""The board's GPIO chip by lgpio: importing that library without its side effects, and finding the chip."""

from __future__ import annotations

import contextlib
import importlib
import os
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

from firmware_py.craft.refusal import Refused


def import_lgpio() -> ModuleType:
    """Import lgpio from any working directory.

    At import it moves to the folder named by LG_WD and makes a pipe there; in a read-only folder it fails,
    and two processes in one folder take each other's pipe. So each import gets a folder of its own, which
    is taken away again once the pipe is open.
    """
    here, before = Path.cwd(), os.environ.get("LG_WD")
    with _own_folder() as folder:
        os.environ["LG_WD"] = str(folder)
        try:
            return importlib.import_module("lgpio")
        finally:
            os.chdir(here)
            _restore("LG_WD", before)


@contextlib.contextmanager
def _own_folder() -> Iterator[Path]:
    folder = _make_folder(f"embertray-pins-{os.getpid()}")
    try:
        yield folder
    finally:
        for left in folder.iterdir():
            left.unlink()
        folder.rmdir()


def _make_folder(name: str) -> Path:
    places = (os.environ.get(key) for key in ("LG_WD", "XDG_RUNTIME_DIR", "TMPDIR"))
    for place in (*filter(None, places), "/tmp", "/dev/shm"):  # noqa: S108 - the folder is made new, for us alone
        with contextlib.suppress(OSError):
            folder = Path(place) / name
            folder.mkdir(mode=0o700)
            return folder
    raise Refused("no folder to write in", where="lgpio", allowed="a writable /tmp, or LG_WD naming one")


def find_chip(lgpio: ModuleType, devices: Path = Path("/dev")) -> int:
    """Return the number of the chip that carries the header's lines.

    It is the one labelled pinctrl-…; its number differs between boards and kernels.
    """
    numbers = sorted(int(path.name.removeprefix("gpiochip")) for path in devices.glob("gpiochip*"))
    if not numbers:
        raise Refused(
            "no GPIO chip", where=str(devices), allowed="a board with GPIO lines, and access to them"
        )
    labelled = [number for number in numbers if _label(lgpio, number).startswith("pinctrl-")]
    return (labelled or numbers)[0]


def _label(lgpio: ModuleType, number: int) -> str:
    try:
        handle = lgpio.gpiochip_open(number)
    except lgpio.error:
        return ""
    try:
        return str(lgpio.gpio_get_chip_info(handle)[3])
    finally:
        lgpio.gpiochip_close(handle)


def _restore(key: str, before: str | None) -> None:
    if before is None:
        del os.environ[key]
    else:
        os.environ[key] = before
