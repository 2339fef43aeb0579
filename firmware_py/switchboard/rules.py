"""What may be asked of a relay at all, whatever its state: checked by the link and again by the board."""

from __future__ import annotations

import math
from collections.abc import Mapping

from firmware_py.craft.refusal import Refused
from firmware_py.switchboard.commands import Expose, RelayWiring, Switch

# Two relays with one name, or on one line, could not be told apart.
LONGEST_NAME = 80


def wirings_by_name(relays: tuple[RelayWiring, ...]) -> dict[str, RelayWiring]:
    """Return the relays by their names; refuse one that is wired wrongly."""
    by_name: dict[str, RelayWiring] = {}
    pins: dict[int, str] = {}
    for wiring in relays:
        _check_wiring(wiring, pins)
        if wiring.name in by_name:
            raise Refused(f"two relays are called {wiring.name!r}", allowed="one name each")
        by_name[wiring.name] = wiring
        if wiring.pin is not None:
            pins[wiring.pin] = wiring.name
    return by_name


def _check_wiring(wiring: RelayWiring, pins: Mapping[int, str]) -> None:
    if not 0 < len(wiring.name) <= LONGEST_NAME:
        raise Refused(f"relay name {wiring.name!r}", allowed=f"1 to {LONGEST_NAME} characters")
    if wiring.pin is not None and not 0 <= wiring.pin <= 27:
        raise Refused(f"relay {wiring.name!r} on pin {wiring.pin}", allowed="BCM numbers 0 to 27")
    if wiring.pin is not None and wiring.pin in pins:
        raise Refused(f"relay {wiring.name!r} on the pin of {pins[wiring.pin]!r}", allowed="a pin of its own")
    for limit_s in (wiring.ceiling_s, wiring.stay_limit_s):
        if limit_s is not None and not _is_duration(limit_s):
            raise Refused(
                f"relay {wiring.name!r} with a limit of {limit_s} s", allowed="more than 0 s, finite"
            )


def check_switch(command: Switch, relays: Mapping[str, RelayWiring]) -> RelayWiring:
    """Return the relay's wiring; refuse an unknown relay, or *on* for one that only makes exposures."""
    wiring = _known(command.relay, relays)
    if command.on and not wiring.continuous:
        raise Refused(
            f"relay {wiring.name!r} can not be switched on for good",
            allowed="exposures; for good only in its warm-up mode (a setting)",
        )
    return wiring


def check_expose(command: Expose, relays: Mapping[str, RelayWiring]) -> RelayWiring:
    """Return the relay's wiring; refuse an exposure without a ceiling, past one, or of no length."""
    wiring = _known(command.relay, relays)
    if wiring.ceiling_s is None:
        raise Refused(f"relay {wiring.name!r} makes no exposures", allowed="a relay with a ceiling")
    if command.ceiling_s is None:
        raise Refused(f"exposure {command.id!r} without a ceiling", allowed=f"up to {wiring.ceiling_s:g} s")
    if not _is_duration(command.ceiling_s) or command.ceiling_s > wiring.ceiling_s:
        raise Refused(
            f"exposure {command.id!r} with a ceiling of {command.ceiling_s:g} s on {wiring.name!r}",
            allowed=f"more than 0, up to {wiring.ceiling_s:g} s",
        )
    if command.for_s is not None and not 0 < command.for_s <= command.ceiling_s:
        raise Refused(
            f"exposure {command.id!r} of {command.for_s:g} s",
            allowed=f"more than 0, up to its ceiling of {command.ceiling_s:g} s",
        )
    return wiring


def _known(name: str, relays: Mapping[str, RelayWiring]) -> RelayWiring:
    if name not in relays:
        raise Refused(f"no relay is called {name!r}", allowed=", ".join(sorted(relays)) or "none is wired")
    return relays[name]


def _is_duration(seconds: float) -> bool:
    return math.isfinite(seconds) and seconds > 0
