"""The way to the pins: which library drives them, chosen by name and never silently pretended."""

from __future__ import annotations

import warnings
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from firmware_py.craft.refusal import Refused

# "board" takes the first of REAL that opens, as gpiozero itself would; "mock" must be asked for by name.
REAL = ("lgpio", "rpigpio")
KINDS = ("board", *REAL, "mock")


@dataclass(frozen=True, slots=True)
class Pins:
    """A gpiozero pin factory and the name of the way it goes."""

    kind: str
    factory: Any


def open_pins(kind: str, *, record: Path | None = None) -> Pins:
    """Open the pins by the way called ``kind`` (one of `KINDS`); refuse, in one line, if that fails.

    ``record`` names a file that takes every level written to mock pins.
    """
    if kind not in KINDS:
        raise Refused(f"pins by {kind!r}", allowed=", ".join(KINDS))
    if record is not None and kind != "mock":
        raise Refused(f"a pin record with pins by {kind!r}", allowed="with mock pins")
    if kind == "mock":
        return Pins("mock", _mock(record))
    return _open_first(REAL if kind == "board" else (kind,))


def _open_first(kinds: tuple[str, ...]) -> Pins:
    failures: list[str] = []
    for kind in kinds:
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                return Pins(kind, _OPENERS[kind]())
        except Exception as error:  # noqa: BLE001 - each library fails in its own way; all mean: not this one
            failures.append(f"{kind}: {error or type(error).__name__}")
    raise Refused(
        f"the pins can not be opened ({'; '.join(failures)})",
        allowed="a board with lgpio or RPi.GPIO installed and the right to use them",
    )


def _lgpio() -> object:
    from firmware_py.devices.lgpio_pins import SteadyFactory

    return SteadyFactory()


def _rpigpio() -> object:
    from gpiozero.pins.rpigpio import RPiGPIOFactory

    return RPiGPIOFactory()


def _mock(record: Path | None) -> object:
    from gpiozero.pins.mock import MockFactory, MockPWMPin

    from firmware_py.devices.recorded_pins import BOARD_REVISION, recorded_factory

    return recorded_factory(record) if record else MockFactory(revision=BOARD_REVISION, pin_class=MockPWMPin)


_OPENERS: dict[str, Callable[[], object]] = {"lgpio": _lgpio, "rpigpio": _rpigpio}
