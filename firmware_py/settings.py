"""What ``bench.toml`` may say, and what it means; every option has its default and its bounds here."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Annotated, Literal

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.craft.warming import WarmUp
from firmware_py.strict_toml import Kelvins, Millimetres, Seconds, SignedSeconds, read_toml

Name = Annotated[str, msgspec.Meta(min_length=1, max_length=60)]
BcmPin = Annotated[int, msgspec.Meta(ge=0, le=27)]
LONGEST_EXPOSURE_S = 3600.0


def _within(key: str, value: float, low: float, high: float, unit: str) -> None:
    if not low <= value <= high:
        raise ValueError(f"`{key}` is {value:g} {unit}; allowed: {low:g} {unit} to {high:g} {unit}")


class Section(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A table of the file."""


class BenchSection(Section, frozen=True, kw_only=True):
    """``[bench]``: where things are kept, and the way to the pins (``mock`` drives no real line).

    ``pin_record`` names a file that takes every level of mock pins.
    """

    name: Name = "bench"
    state: str | None = None
    socket: str | None = None
    pins: Literal["board", "lgpio", "rpigpio", "mock"] = "board"
    pin_record: str | None = None
    routines: str | None = None


class RelaySection(Section, frozen=True, kw_only=True):
    """``[relay.NAME]``: one output and the longest it may be on for an exposure."""

    body: Literal["gpio", "by-hand"] = "gpio"
    pin: BcmPin | None = None
    active_high: bool = True
    longest_on: Seconds | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        if (self.body == "gpio") != (self.pin is not None):
            raise ValueError("a `gpio` relay, and no other, has a `pin`")
        if self.longest_on is not None:
            _within("longest_on", self.longest_on, 0.01, LONGEST_EXPOSURE_S, "s")


class ProbeSection(Section, frozen=True, kw_only=True):
    """``[probe.NAME]``: one thermometer and the tray it lies in."""

    body: Literal["one-wire", "by-hand"] = "one-wire"
    tray: Annotated[str, msgspec.Meta(pattern=r"^tray [1-6]$")] = "tray 1"
    serial: Annotated[str, msgspec.Meta(pattern=r"^[0-9a-f]{2}-[0-9a-f]{12}$")] | None = None
    folder: str = "/sys/bus/w1/devices"
    tolerance: Kelvins = Kelvins(0.5)
    offset: Kelvins = Kelvins(0.0)

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        if (self.body == "one-wire") != (self.serial is not None):
            raise ValueError("a `one-wire` probe, and no other, has a `serial`, such as '28-0123456789ab'")
        _within("tolerance", self.tolerance, 0.01, 5.0, "K")
        _within("offset", self.offset, -5.0, 5.0, "K")


class FootSection(Section, frozen=True, kw_only=True):
    """``[foot-switch]``: the pedal, its debounce, and what parts a long press from a short one."""

    body: Literal["gpio", "none"] = "none"
    pin: BcmPin | None = None
    debounce: Seconds = Seconds(0.02)
    long_press: Seconds = Seconds(0.8)

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        if (self.body == "gpio") != (self.pin is not None):
            raise ValueError("a `gpio` foot switch, and no other, has a `pin`")
        _within("debounce", self.debounce, 0.001, 0.5, "s")
        _within("long_press", self.long_press, 0.2, 5.0, "s")


class LampSection(Section, frozen=True, kw_only=True):
    """``[lamp]``: the printing lamp, as its user measured it, and how it is used.

    ``lag`` ± ``lag_doubt`` is what each start loses and ``shortest`` the shortest start of the lag test
    (``embertray reckon lamp``). ``mains`` is given for a zero-crossing switch. ``warm_up`` are pairs of time
    since lit and light, of 1 for full, of a lamp that is kept lit.
    """

    name: Name = "printing lamp"
    lag: SignedSeconds = SignedSeconds(0.0)
    lag_doubt: Seconds = Seconds(0.0)
    shortest: Seconds = Seconds(0.0)
    mains: Literal["50 Hz", "60 Hz"] | None = None
    distance: Millimetres | None = None
    bulb_ceiling: Seconds = Seconds(120.0)
    pause: Seconds = Seconds(0.5)
    safelight: Literal["unchanged", "off", "on"] = "unchanged"
    warm_up: list[tuple[Seconds, float]] = []

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        _within("lag", self.lag, -5.0, 5.0, "s")
        _within("lag_doubt", self.lag_doubt, 0.0, 5.0, "s")
        _within("shortest", self.shortest, 0.0, 60.0, "s")
        _within("bulb_ceiling", self.bulb_ceiling, 1.0, LONGEST_EXPOSURE_S, "s")
        _within("pause", self.pause, 0.1, 5.0, "s")
        if self.distance is not None:
            _within("distance", self.distance, 1.0, 20_000.0, "mm")
        if self.shortest and self.shortest <= self.lag:
            raise ValueError("`shortest` must be longer than `lag`: a shorter start gives no light")
        if self.warm_up:
            WarmUp(tuple((float(time_s), light) for time_s, light in self.warm_up))


class SounderSection(Section, frozen=True, kw_only=True):
    """``[sounder]``: the beeper."""

    body: Literal["gpio", "none"] = "none"
    pin: BcmPin | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        if (self.body == "gpio") != (self.pin is not None):
            raise ValueError("a `gpio` sounder, and no other, has a `pin`")


class Settings(Section, frozen=True, kw_only=True):
    """The whole file."""

    bench: BenchSection = BenchSection()
    relay: dict[Literal["safelight", "printing-lamp"], RelaySection] = msgspec.field(default_factory=dict)
    probe: dict[Name, ProbeSection] = {}
    foot_switch: FootSection = msgspec.field(default=FootSection(), name="foot-switch")
    sounder: SounderSection = SounderSection()
    lamp: LampSection = LampSection()

    def __post_init__(self) -> None:
        """Refuse two devices on one pin, and two probes in one tray."""
        pins: dict[int, str] = {}
        for name, pin in self._pins():
            if pin in pins:
                raise ValueError(f"{name} and {pins[pin]} both use pin {pin}; each needs its own")
            pins[pin] = name
        trays: dict[str, str] = {}
        for name, probe in self.probe.items():
            if probe.tray in trays:
                raise ValueError(f"probes {trays[probe.tray]} and {name} both lie in {probe.tray}")
            trays[probe.tray] = name

    def _pins(self) -> list[tuple[str, int]]:
        named: list[tuple[str, int | None]] = [(f"relay {n}", r.pin) for n, r in self.relay.items()]
        named += [("the foot switch", self.foot_switch.pin), ("the sounder", self.sounder.pin)]
        return [(name, pin) for name, pin in named if pin is not None]


def settings_path() -> Path | None:
    """Return the bench.toml that counts, or None where no bench is configured.

    A file named by ``EMBERTRAY_CONFIG`` must exist; otherwise the user's config folder, then /etc.
    """
    named = os.environ.get("EMBERTRAY_CONFIG")
    if named:
        return Path(named)
    import platformdirs

    places = [platformdirs.user_config_path("embertray"), Path("/etc/embertray")]
    return next((p / "bench.toml" for p in places if (p / "bench.toml").exists()), None)


def read_settings(path: Path) -> Settings:
    """Return the settings in a file; Raises Refused with file, key, what was found, what is allowed."""
    settings = read_toml(path, Settings)
    if settings.bench.routines is not None and not Path(settings.bench.routines).is_dir():
        raise Refused(
            f"there is no folder {settings.bench.routines!r}", where=f"{path}, key `bench.routines`"
        )
    return settings


def state_folder(settings: Settings | None) -> Path:
    """Return the folder in which a bench keeps its journal; a rehearsal has one of its own."""
    named = os.environ.get("EMBERTRAY_STATE")
    if named:
        return Path(named)
    if settings is not None and settings.bench.state is not None:
        return Path(settings.bench.state)
    import platformdirs

    state = platformdirs.user_state_path("embertray")
    return state / "bench" if settings is not None else state / "rehearsal"


def socket_path(settings: Settings | None, state: Path) -> Path:
    """Return where the controller listens: as set, or in the state folder."""
    if settings is not None and settings.bench.socket is not None:
        return Path(settings.bench.socket)
    return state / "bench.sock"
