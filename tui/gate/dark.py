"""Whether the screen is black for a plate that bears no light: gate and screen share a byte that says so.

Standard library only. The byte is memory: whoever dies, whatever file is lost or spoilt, the gate knows it. A
file beside it tells the next gate on that bench.
"""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

DARK_FILE = "screen-dark"
BOOT_ID = Path("/proc/sys/kernel/random/boot_id")
SHARED_VARIABLE = "EMBERTRAY_DARK"
DARK, LIGHT = b"\x01", b"\x00"


class SharedDark:
    """The gate's end of the byte: it is handed on to every program behind the gate."""

    def __init__(self, *, dark: bool) -> None:
        self.is_set = dark
        # Inherited on purpose, by the program behind the gate alone: what that starts closes all it has.
        self._file = os.memfd_create("embertray-dark", 0)
        self._share(DARK if dark else LIGHT)

    @property
    def variable(self) -> dict[str, str]:
        """Get what tells a program behind the gate where the byte is."""
        return {SHARED_VARIABLE: str(self._file)}

    def look(self) -> bool:
        """Return whether the screen is black; as it was last known where the byte cannot be read."""
        with suppress(OSError):
            self.is_set = os.pread(self._file, 1, 0) == DARK
        return self.is_set

    def light(self) -> None:
        """Let there be light, because the person asked for it by the key of light."""
        self.is_set = False
        with suppress(OSError):
            self._share(LIGHT)

    def _share(self, value: bytes) -> None:
        os.pwrite(self._file, value, 0)


def is_dark(folder: Path) -> bool:
    """Return whether the screen that keeps its state in ``folder`` is black, or was when it died.

    A file from before the machine last started counts no more: then the bench itself has to say it.
    """
    shared = _shared()
    if shared is not None:
        with suppress(OSError):
            return os.pread(shared, 1, 0) == DARK
    return was_dark(folder)


def was_dark(folder: Path) -> bool:
    """Return whether the file says that the screen is black, or was when it died."""
    try:
        return (folder / DARK_FILE).read_text(encoding="ascii") == _boot_id()
    except (OSError, ValueError):
        return False


def say_dark(folder: Path) -> None:
    """Say that the screen is black: to the gate first."""
    _say(DARK)
    with suppress(OSError):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        flags = os.O_CREAT | os.O_WRONLY | os.O_TRUNC | os.O_NOFOLLOW | os.O_NONBLOCK
        file = os.open(folder / DARK_FILE, flags, 0o600)
        try:
            os.fchmod(file, 0o600)  # also where an older program made it for everybody
            os.write(file, _boot_id().encode("ascii"))
        finally:
            os.close(file)


def say_light(folder: Path) -> None:
    """Say that the screen is black no more."""
    with suppress(OSError):
        (folder / DARK_FILE).unlink(missing_ok=True)
    _say(LIGHT)


def _say(value: bytes) -> None:
    shared = _shared()
    if shared is not None:
        with suppress(OSError):
            os.pwrite(shared, value, 0)


def _shared() -> int | None:
    """Return the shared byte's file descriptor, where a gate named one that is what it should be."""
    named = os.environ.get(SHARED_VARIABLE, "")
    if not named.isdecimal():
        return None
    with suppress(OSError):
        if "embertray-dark" in str(Path(f"/proc/self/fd/{named}").readlink()):
            return int(named)
    return None


def _boot_id() -> str:
    return BOOT_ID.read_text(encoding="ascii").strip()
