"""Drive lines to their safe level and end: what clears the pins when a switchboard died or froze.

``python -m firmware_py.switchboard.make_safe WAY [--record FILE] PIN=high|low …``, WAY one of lgpio,
rpigpio, board, mock; or ``--config FILE`` for the relays of a bench.toml. It opens the lines with the bare
pin library, which is there ten times sooner than gpiozero, and needs no controller: a service unit runs it
after every stop. The guardian does the same with all loaded beforehand. A line that another process holds
is tried again for `BUSY_S`: the kernel may not have let go of it yet.
"""

from __future__ import annotations

import contextlib
import importlib
import os
import select
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from types import ModuleType

from firmware_py.craft.refusal import Refused
from firmware_py.switchboard.realtime import boot_now_s

Levels = Mapping[int, bool]

USAGE = "make_safe lgpio|rpigpio|board|mock [--record FILE] PIN=high|low ..., or make_safe --config FILE"
BUSY_S = 3.0
AGAIN_S = 0.01


def main(words: list[str]) -> int:
    """Return 0 when every line is driven at its level, 1 if one could not be, 2 for wrong usage."""
    try:
        way, record, levels = read_words(words)
    except Refused as refusal:
        sys.stderr.write(f"lines not made safe: {refusal.line}\n")
        return 1
    except ValueError as error:
        sys.stderr.write(f"{error}\nusage: {USAGE}\n")
        return 2
    failures: list[str] = []
    for drive in _WAYS[way]:
        try:
            drive(levels, record)
        except Exception as error:  # noqa: BLE001 - each library fails in its own way; all mean: not safe
            failures.append(str(error) or type(error).__name__)
        else:
            return 0
    sys.stderr.write(f"lines not made safe: {'; '.join(failures)}\n")
    return 1


def load(way: str) -> None:
    """Load all that `main` needs for the ``way``; what fails is tried again, and told, when it is needed."""
    for loading in _LOADS[way]:
        with contextlib.suppress(Exception):
            loading()


def words_for(way: str, record: str | None, levels: Levels) -> list[str]:
    """Return the command's words that `main` reads back."""
    lines = [f"{pin}={'high' if high else 'low'}" for pin, high in levels.items()]
    return [way, *(["--record", record] if record else []), *lines]


def read_words(words: list[str]) -> tuple[str, str | None, Levels]:
    """Return way, record and levels. Raises ValueError for senseless words, Refused for a bad file."""
    if words[:1] == ["--config"] and len(words) == 2:
        from firmware_py.switchboard.wired_lines import wired_lines

        way, record, levels = wired_lines(Path(words[1]))
        return _known(way), record, levels
    _known(*words[:1])
    way, *rest = words
    record = None
    if rest[:1] == ["--record"] and len(rest) > 1:
        record, rest = rest[1], rest[2:]
    return way, record, dict(_read_line(word) for word in rest)


def _known(way: str = "") -> str:
    if way not in _WAYS:
        raise ValueError(f"way to the pins {way!r}")
    return way


def _read_line(word: str) -> tuple[int, bool]:
    pin, _, level = word.partition("=")
    if not pin.isdecimal() or level not in {"high", "low"}:
        raise ValueError(f"line {word!r}")
    return int(pin), level == "high"


def _load_lgpio() -> ModuleType:
    from firmware_py.devices.lgpio_chip import import_lgpio

    return import_lgpio()


def _load_rpigpio() -> ModuleType:
    return importlib.import_module("RPi.GPIO")


def _load_mock() -> ModuleType:
    return importlib.import_module("firmware_py.devices.pin_record")


def _by_lgpio(levels: Levels, _record: str | None) -> None:
    from firmware_py.devices.lgpio_chip import find_chip

    lgpio = _load_lgpio()
    chip = lgpio.gpiochip_open(find_chip(lgpio))
    _each(levels, lambda pin, high: lgpio.gpio_claim_output(chip, pin, int(high)))


def _by_rpigpio(levels: Levels, _record: str | None) -> None:
    GPIO = _load_rpigpio()
    GPIO.setwarnings(False)  # noqa: FBT003 - its own way to call
    GPIO.setmode(GPIO.BCM)
    _each(levels, lambda pin, high: GPIO.setup(pin, GPIO.OUT, initial=high))


def _by_mock(levels: Levels, record: str | None) -> None:
    from firmware_py.devices.pin_record import PinRecord

    if record is not None:
        pins = PinRecord(record)
        _each(levels, lambda pin, high: pins.drive(pin, high=high))


def _each(levels: Levels, drive: Callable[[int, bool], object]) -> None:
    """Drive every line, whatever happens with the others; those that fail are tried again for `BUSY_S`."""
    due_s = boot_now_s() + BUSY_S
    failures = _failures(levels, drive)
    while failures and boot_now_s() < due_s:
        select.select([], [], [], AGAIN_S)
        failures = _failures({pin: levels[pin] for pin in failures}, drive)
    if failures:
        raise Refused(
            "; ".join(f"pin {pin}: {error}" for pin, error in failures.items()),
            allowed="lines that no other process holds",
        )


def _failures(levels: Levels, drive: Callable[[int, bool], object]) -> dict[int, Exception]:
    failures: dict[int, Exception] = {}
    for pin, high in levels.items():
        try:
            drive(pin, high)
        except Exception as error:  # noqa: BLE001 - the next line must be driven in any case
            failures[pin] = error
    return failures


_Way = Callable[[Levels, str | None], None]
_WAYS: Mapping[str, tuple[_Way, ...]] = {
    "lgpio": (_by_lgpio,),
    "rpigpio": (_by_rpigpio,),
    "board": (_by_lgpio, _by_rpigpio),
    "mock": (_by_mock,),
}
_LOADS: Mapping[str, tuple[Callable[[], ModuleType], ...]] = {
    "lgpio": (_load_lgpio,),
    "rpigpio": (_load_rpigpio,),
    "board": (_load_lgpio, _load_rpigpio),
    "mock": (_load_mock,),
}


if __name__ == "__main__":
    status = main(sys.argv[1:])
    sys.stderr.flush()
    # Not sys.exit: RPi.GPIO's and lgpio's clean-up would let the lines go that must stay driven.
    os._exit(status)
