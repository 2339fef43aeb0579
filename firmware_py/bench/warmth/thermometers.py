"""The thermometers of the bench: which serves which bath, and the watch over silent probes."""

from __future__ import annotations

from collections.abc import Mapping

from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.warmth.gathering import Places
from firmware_py.bench.warmth.heat_facts import JACKET, ROOM
from firmware_py.bench.warmth.thermometry import Thermometer
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Step
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.facts.events import run as ev

# One missed reading may be a spark on the wire; two in a row are said. Five are none any more (`STALE_S`).
MISSES_SAID = 2


class Thermometers:
    """Every bath's thermometer. ``trays`` names where each probe lies: a tray, jacket, room, or a bath.

    ``is_heated`` says whether a heater holds the jacket that the trays stand in.
    """

    def __init__(self, trays: Mapping[str, str], scribe: Scribe, notices: Notices) -> None:
        self.trays = trays
        self.words: dict[str, Reading | NoReading] = {}
        self.set_aside: set[str] = set()
        self._by_place = {place: Thermometer(place) for place in trays.values()}
        self._scribe = scribe
        self._notices = notices
        self._silent: set[str] = set()
        self._missed: dict[str, int] = {}
        self._doubted: set[str] = set()
        self._rushing: set[str] = set()
        self.places = Places(trays)
        self.is_heated = False
        self._quarrelling: set[str] = set()

    def of_probe(self, probe: str) -> Thermometer:
        """Return the thermometer that a probe speaks to."""
        return self._by_place[self.trays[probe]]

    def of_step(self, number: int, step: Step) -> Thermometer:
        """Return the thermometer of the bath of a step in tray ``number``.

        A probe that lies in a bath of that name serves it, whatever the tray. A developer without one is
        served by the probe of the tray, and where there is one in a single tray only, by that; every other
        bath without a probe has a thermometer that only a person can read.
        """
        if step.bath in self.trays.values():
            return self._by_place[step.bath]
        if step.kind == "develop":
            return self._of_tray(f"tray {number}")
        place = f"{step.bath} at tray {number}"
        if place not in self._by_place:
            self._by_place[place] = Thermometer(step.bath)
        return self._by_place[place]

    def heard(self, probe: str, word: Reading | NoReading) -> Reading | None:
        """Take in what a probe said; return the reading if it is believed."""
        self.words[probe] = word
        if probe in self.set_aside:
            return None
        said = self.places.take(probe, word)
        reading = self.of_probe(probe).hear(said) if said is not None else None
        if self.trays[probe] in {JACKET, ROOM}:
            self._surround(word.taken_s)
        spoke = reading if self.places.is_alone(probe) else word
        self._missed[probe] = 0 if isinstance(spoke, Reading) else self._missed.get(probe, 0) + 1
        if isinstance(spoke, Reading) and probe in self._silent:
            self._silent.discard(probe)
            self._notices.clear("probe silent", about=probe)
            self._scribe.write_session(ev.ProbeSpokeAgain(probe=probe, bath_degC=spoke.bath_degC))
        return reading

    def trust(self, probe: str, trusted: bool, now_s: float) -> None:
        """Leave out what a probe says, for a glass thermometer says otherwise; or count it again."""
        if probe not in self.trays:
            known = ", ".join(self.trays) or "none"
            raise Refused(f"there is no probe {probe!r}", where="trust", allowed=known)
        if trusted == (probe not in self.set_aside):
            raise Refused(f"probe {probe} is {'trusted' if trusted else 'set aside'} already", where="trust")
        if trusted:
            self.set_aside.discard(probe)
            self._notices.clear("probe set aside", about=probe)
            self._scribe.write_session(ev.ProbeTakenBack(probe=probe))
            return
        self.set_aside.add(probe)
        self._silent.discard(probe)
        self._notices.clear("probe silent", about=probe)
        self._doubted.discard(probe)
        self.places.leave_out(probe)
        then = "the others there go on"
        if self.places.is_alone(probe):
            self.of_probe(probe).distrust()
            then = "give the temperature by hand"
        self._notices.say("probe set aside", f"Probe {probe} is set aside: {then}", now_s, about=probe)
        self._scribe.write_session(ev.ProbeSetAside(probe=probe))

    def _surround(self, now_s: float) -> None:
        """Tell the baths what they come to: the jacket while it is heated, else the room."""
        around = self.places.reading(JACKET if self.is_heated else ROOM, now_s)
        for place, thermometer in self._by_place.items():
            if place not in {JACKET, ROOM}:
                thermometer.surroundings_degC = around.bath_degC if around is not None else None

    def advance(self, now_s: float) -> None:
        """Say so, once, when a probe has given nothing that can be believed for too long."""
        for probe, word in self.words.items():
            thermometer = self.of_probe(probe)
            if probe in self.set_aside:
                continue
            self._watch_for_rush(probe, thermometer, now_s)
            alone = self.places.is_alone(probe)
            silent = thermometer.is_stale(now_s) if alone else self.places.has_fallen_silent(probe, now_s)
            why = word.why if isinstance(word, NoReading) else thermometer.trouble or "no reading came"
            if probe in self._silent or not silent:
                self._doubt(probe, why, now_s)
                continue
            self._silent.add(probe)
            self._doubted.discard(probe)
            words = f"Probe {probe} is silent: {why}{self._then(probe, thermometer, now_s)}"
            self._notices.say("probe silent", words, now_s, about=probe)
            self._scribe.write_session(ev.ProbeFellSilent(probe=probe, why=why))
            self._scribe.play("trouble")
        self._look_for_quarrels(now_s)

    def _doubt(self, probe: str, why: str, now_s: float) -> None:
        """Say, without alarm, what a probe gives instead of readings until it counts as silent."""
        if probe in self._silent:
            return
        if self._missed.get(probe, 0) >= MISSES_SAID:
            self._doubted.add(probe)
            words = f"Probe {probe} gives no reading: {why}"
            self._notices.say("probe misses", words, now_s, about=probe)
        elif probe in self._doubted:
            self._doubted.discard(probe)
            self._notices.clear("probe misses", about=probe)

    def _then(self, probe: str, thermometer: Thermometer, now_s: float) -> str:
        place = self.trays[probe]
        if not thermometer.is_stale(now_s):
            return f". The others in the {place} go on"
        if place in {JACKET, ROOM}:
            return ""
        return ". Timing goes on by the bath's trend; give the temperature by hand"

    def _look_for_quarrels(self, now_s: float) -> None:
        quarrels = self.places.quarrels()
        for place in self._quarrelling - quarrels.keys():
            self._notices.clear("probes differ", about=place)
        for place in quarrels.keys() - self._quarrelling:
            words = f"The probes in the {place} differ by {quarrels[place]:.1f} K, more than they may"
            self._notices.say("probes differ", f"{words}: which is right?", now_s, about=place)
        self._quarrelling = set(quarrels)

    def _watch_for_rush(self, probe: str, thermometer: Thermometer, now_s: float) -> None:
        by_itself = not self.is_heated and self.trays[probe] not in {JACKET, ROOM}
        rush = thermometer.rush_K_per_min() if by_itself else None
        if rush is None:
            self._rushing.discard(probe)
            self._notices.clear("probe rushes", about=probe)
        elif probe not in self._rushing:
            self._rushing.add(probe)
            words = f"Probe {probe} changes by {rush:+.1f} K a minute, more than a tray does by itself"
            said = f"{words}: hold a thermometer beside it"
            self._notices.say("probe rushes", said, now_s, about=probe)
            self._scribe.write_session(ev.FaultSeen(fault="probe rushes", detail=words))
            self._scribe.play("trouble")

    def _of_tray(self, tray: str) -> Thermometer:
        if tray not in self._by_place:
            in_trays = {place for place in self.trays.values() if place.startswith("tray ")}
            only = self._by_place[in_trays.pop()] if len(in_trays) == 1 else None
            self._by_place[tray] = only or Thermometer(tray)
        return self._by_place[tray]
