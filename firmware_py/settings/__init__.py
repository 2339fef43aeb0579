"""What ``bench.toml`` may say, and what it means; every option has its default and its bounds here."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

import msgspec

from firmware_py.craft.plate_sizes import read_plate_size
from firmware_py.craft.refusal import Refused
from firmware_py.craft.safelight import safe_s
from firmware_py.craft.warming import WarmUp
from firmware_py.settings.foot import FootSection
from firmware_py.settings.light import LightSensorSection
from firmware_py.settings.probe import ProbeSection
from firmware_py.settings.screen import ScreenSection
from firmware_py.settings.section import BcmPin, Name, PathName, Place, Section, check_within
from firmware_py.strict_toml import (
    DegC,
    Kelvins,
    Millilitres,
    Millimetres,
    Seconds,
    SignedSeconds,
    read_toml,
)

RelayName = Literal["safelight", "printing-lamp", "heater"]
LONGEST_EXPOSURE_S = 3600.0


class BenchSection(Section, frozen=True, kw_only=True):
    """``[bench]``: where things are kept, and the way to the pins.

    Keys:
        name: what the bench is called.
        state: the folder of the journal; without it, the user's state folder.
        socket: where the controller listens; without it, in the state folder.
        pins: the way to the pins; `board` chooses by itself, `mock` drives no real line.
        pin_record: a file that takes every level of mock pins.
        routines: a folder of your own routines.
        formulas: a folder of your own formulas.
        marks: a file of your own marks and phrases.
    """

    name: Name = "bench"
    state: PathName | None = None
    socket: PathName | None = None
    pins: Literal["board", "lgpio", "rpigpio", "mock"] = "board"
    pin_record: PathName | None = None
    routines: PathName | None = None
    formulas: PathName | None = None
    marks: PathName | None = None


class RelaySection(Section, frozen=True, kw_only=True):
    """``[relay.NAME]``: one output; NAME is safelight, printing-lamp or heater.

    Keys:
        body: `gpio` is a relay on a pin, `by-hand` one that a person works when the bench says so.
        pin: the BCM number of its pin; only with `gpio`.
        active_high: whether a high level switches it on. Read the wiring page before you change it.
        longest_on: the longest it may be on for an exposure (interlock 3).
    """

    body: Literal["gpio", "by-hand"] = "gpio"
    pin: BcmPin | None = None
    active_high: bool = True
    longest_on: Seconds | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        if (self.body == "gpio") != (self.pin is not None):
            raise ValueError("a `gpio` relay, and no other, has a `pin`")
        if self.longest_on is not None:
            check_within("longest_on", self.longest_on, 0.01, LONGEST_EXPOSURE_S, "s")


class LampSection(Section, frozen=True, kw_only=True):
    """``[lamp]``: the printing lamp, as its user measured it, and how it is used.

    Keys:
        name: what the book calls the lamp.
        lag: what each start loses, by the lag test (`embertray reckon lamp`).
        lag_doubt: how far the lag may be wrong.
        shortest: the shortest start of the lag test; shorter ones are refused.
        mains: for a switch that waits for the zero of the mains.
        distance: from the lamp to the frame.
        bulb_ceiling: the longest exposure by foot alone.
        pause: how long nothing is lit after the lamp went out.
        safelight: what the safelight does during an exposure; it is given back afterwards.
        warm_up: pairs of time since lit and light, of 1 for full, of a lamp that is kept lit.
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
    warm_up: list[tuple[Seconds, float]] = msgspec.field(default_factory=list)

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        check_within("lag", self.lag, -5.0, 5.0, "s")
        check_within("lag_doubt", self.lag_doubt, 0.0, 5.0, "s")
        check_within("shortest", self.shortest, 0.0, 60.0, "s")
        check_within("bulb_ceiling", self.bulb_ceiling, 1.0, LONGEST_EXPOSURE_S, "s")
        check_within("pause", self.pause, 0.1, 5.0, "s")
        if self.distance is not None:
            check_within("distance", self.distance, 1.0, 20_000.0, "mm")
        if self.shortest and self.shortest <= self.lag:
            raise ValueError("`shortest` must be longer than `lag`: a shorter start gives no light")
        if self.warm_up:
            WarmUp(tuple((float(time_s), light) for time_s, light in self.warm_up))


class SounderSection(Section, frozen=True, kw_only=True):
    """``[sounder]``: the beeper.

    Keys:
        body: how it is connected; `terminal` is the bell of the terminal on which the screen is open,
            `none` makes no sound.
        pin: the BCM number of its pin; only with `gpio`.
    """

    body: Literal["gpio", "terminal", "none"] = "none"
    pin: BcmPin | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        if (self.body == "gpio") != (self.pin is not None):
            raise ValueError("a `gpio` sounder, and no other, has a `pin`")


class BathsSection(Section, frozen=True, kw_only=True):
    """``[baths]``: what is done about a bath that is used up or too old.

    Keys:
        exhausted: whether a run in such a bath is warned of, or refused.
    """

    exhausted: Literal["warn", "refuse"] = "warn"


class PlatesSection(Section, frozen=True, kw_only=True):
    """``[plates]``: what a plate is when nobody says otherwise.

    Keys:
        size: its size, such as `half plate` or `13 x 18 cm`.
        emulsion: what its emulsion is called.
        sensitivity: the colours it sees; it decides about the safelight (interlock 2).
    """

    size: Name | None = None
    emulsion: Annotated[str, msgspec.Meta(max_length=60)] = ""
    sensitivity: Literal["blue", "orthochromatic", "panchromatic"] | None = None

    def __post_init__(self) -> None:
        """Refuse a size that is none, or two."""
        if self.size is not None:
            read_plate_size(self.size, where="`size`")


class SafelightTestSection(Section, frozen=True, kw_only=True):
    """``[safelight-test.NAME]``: the user's own test of one light with one emulsion.

    Keys:
        emulsion: the emulsion that was tested.
        no_change: the longest time that changed nothing.
        detectable: the next longer time, that just did.
        light: the light that was tested.
    """

    emulsion: Name
    no_change: Seconds
    detectable: Seconds
    light: Literal["safelight"] = "safelight"

    def __post_init__(self) -> None:
        """Refuse a test that says nothing."""
        check_within("no_change", self.no_change, 1.0, 86400.0, "s")
        check_within("detectable", self.detectable, 1.0, 86400.0, "s")
        safe_s(self.no_change, self.detectable)


class HeaterSection(Section, frozen=True, kw_only=True):
    """``[heater]``: how the water jacket is kept warm, and what is too much.

    Keys:
        place: where the probes lie that the heater goes by.
        limit: the warmest that water may be; above it the heater goes off (interlock 4).
        band: so much too cold or more, it gives full power; nearer, in proportion.
        make_up: the time over which what is still wanting is made up.
        window: the power is the share of this time that the heater is on.
        shortest: a pulse or a pause shorter than this is left out, to spare the relay.
        warms_by: so much it must warm its probes,
        warms_within: within this time of full power; or it is stopped (interlock 4).
        stay_limit: the switchboard switches it off by itself when it is not asked again for so long.
        jacket: the water in the jacket, to reckon the ice that cools it.
    """

    place: Place = "jacket"
    limit: DegC = DegC(30.0)
    band: Kelvins = Kelvins(2.0)
    make_up: Seconds = Seconds(900.0)
    window: Seconds = Seconds(20.0)
    shortest: Seconds = Seconds(1.0)
    warms_by: Kelvins = Kelvins(0.5)
    warms_within: Seconds = Seconds(300.0)
    stay_limit: Seconds = Seconds(5.0)
    jacket: Millilitres | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        if self.place == "room":
            raise ValueError("`place` is the room; allowed: jacket, or the tray that the heater goes by")
        check_within("limit", self.limit, 15.0, 40.0, "degC")
        check_within("band", self.band, 0.2, 20.0, "K")
        check_within("make_up", self.make_up, 60.0, 7200.0, "s")
        check_within("window", self.window, 5.0, 120.0, "s")
        check_within("shortest", self.shortest, 0.1, 5.0, "s")
        check_within("warms_by", self.warms_by, 0.1, 5.0, "K")
        check_within("warms_within", self.warms_within, 60.0, 3600.0, "s")
        check_within("stay_limit", self.stay_limit, 2.0, 30.0, "s")
        if self.jacket is not None:
            check_within("jacket", self.jacket, 100.0, 100_000.0, "ml")


class Settings(Section, frozen=True, kw_only=True):
    """The whole file."""

    bench: BenchSection = BenchSection()
    relay: dict[RelayName, RelaySection] = msgspec.field(default_factory=dict)
    probe: dict[Name, ProbeSection] = msgspec.field(default_factory=dict)
    foot_switch: FootSection = msgspec.field(default=FootSection(), name="foot-switch")
    sounder: SounderSection = SounderSection()
    screen: ScreenSection = ScreenSection()
    lamp: LampSection = LampSection()
    light_sensor: LightSensorSection = msgspec.field(default=LightSensorSection(), name="light-sensor")
    baths: BathsSection = BathsSection()
    plates: PlatesSection = PlatesSection()
    safelight_test: dict[Name, SafelightTestSection] = msgspec.field(default={}, name="safelight-test")
    heater: HeaterSection = HeaterSection()

    def __post_init__(self) -> None:
        """Refuse two devices on one pin, one probe twice, and a heater without a thermometer."""
        pins: dict[int, str] = {}
        for name, pin in self._pins():
            if pin in pins:
                raise ValueError(f"{name} and {pins[pin]} both use pin {pin}; each needs its own")
            pins[pin] = name
        wires: dict[str, str] = {}
        for name, probe in self.probe.items():
            if probe.wire is not None and probe.wire in wires:
                raise ValueError(f"probes {wires[probe.wire]} and {name} are both {probe.wire}")
            wires[probe.wire or name] = name
        if self.light_sensor.port is not None and self.light_sensor.port in wires:
            raise ValueError(f"the light sensor and probe {wires[self.light_sensor.port]} are on one port")
        self._check_heater()
        self._check_tests()

    def _check_heater(self) -> None:
        if "heater" in self.relay and self.relay["heater"].body != "gpio":
            raise ValueError("a heater that a person works can not be held at a temperature")
        if "heater" in self.relay and not any(p.place == self.heater.place for p in self.probe.values()):
            raise ValueError(f"the heater goes by a probe in the {self.heater.place}, and there is none")

    def _check_tests(self) -> None:
        tested: dict[tuple[str, str], str] = {}
        for name, test in self.safelight_test.items():
            of = (test.light, test.emulsion.casefold())
            if of in tested:
                raise ValueError(f"safelight tests {tested[of]} and {name} are both of {test.emulsion}")
            tested[of] = name

    def _pins(self) -> list[tuple[str, int]]:
        named: list[tuple[str, int | None]] = [(f"relay {n}", r.pin) for n, r in self.relay.items()]
        named += [("the foot switch", self.foot_switch.pin), ("the sounder", self.sounder.pin)]
        return [(name, pin) for name, pin in named if pin is not None]


def read_settings(path: Path) -> Settings:
    """Return the settings in a file; Raises Refused with file, key, what was found, what is allowed."""
    settings = read_toml(path, Settings)
    folders = {"routines": settings.bench.routines, "formulas": settings.bench.formulas}
    for key, folder in folders.items():
        if folder is not None and not Path(folder).is_dir():
            where = f"{path}, key `bench.{key}`"
            raise Refused(f"there is no folder {folder!r}", where=where, allowed="a folder that stands")
    return settings
