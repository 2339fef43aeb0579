"""The thermometers of the bench: which serves which tray, and the watch over silent probes."""

from __future__ import annotations

from collections.abc import Mapping

from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.thermometry import Thermometer
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.journal import events as ev


class Thermometers:
    """Every tray's thermometer. ``trays`` names the tray that each probe lies in."""

    def __init__(self, trays: Mapping[str, str], scribe: Scribe, notices: Notices) -> None:
        self.trays = trays
        self.words: dict[str, Reading | NoReading] = {}
        self._by_tray = {tray: Thermometer(tray) for tray in trays.values()}
        self._scribe = scribe
        self._notices = notices
        self._silent: set[str] = set()

    def of_probe(self, probe: str) -> Thermometer:
        """Return the thermometer that a probe speaks to."""
        return self._by_tray[self.trays[probe]]

    def of_lane(self, number: int) -> Thermometer:
        """Return the thermometer of a tray; a bench with a single probe uses it for every tray."""
        tray = f"tray {number}"
        if tray not in self._by_tray:
            only = next(iter(self._by_tray.values())) if len(self.trays) == 1 else None
            self._by_tray[tray] = only or Thermometer(tray)
        return self._by_tray[tray]

    def heard(self, probe: str, word: Reading | NoReading) -> Reading | None:
        """Take in what a probe said; return the reading if it is believed."""
        self.words[probe] = word
        reading = self.of_probe(probe).hear(word)
        if reading is not None and probe in self._silent:
            self._silent.discard(probe)
            self._notices.clear(f"probe {probe}")
            self._scribe.write_session(ev.ProbeSpokeAgain(probe=probe, bath_degC=reading.bath_degC))
        return reading

    def advance(self, now_s: float) -> None:
        """Say so, once, when a probe has given nothing that can be believed for too long."""
        for probe, word in self.words.items():
            thermometer = self.of_probe(probe)
            if probe in self._silent or not thermometer.is_stale(now_s):
                continue
            why = word.why if isinstance(word, NoReading) else thermometer.trouble or "no reading came"
            self._silent.add(probe)
            words = f"Probe {probe} is silent: {why}. Timing goes on by the bath's trend"
            self._notices.say(f"probe {probe}", f"{words}; give the temperature by hand", now_s, trouble=True)
            self._scribe.write_session(ev.ProbeFellSilent(probe=probe, why=why))
            self._scribe.play("trouble")
