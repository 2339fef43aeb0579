"""The probes by their names: what is added to their readings, by which calibration, and how old that is."""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.craft.calibration import ICE_TOLERANCE_K, Calibration, ICE_POINT_degC, calibrated
from firmware_py.craft.refusal import Refused
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.facts.acts.bath import CalibrateProbe
from firmware_py.facts.events.heat import ProbeCalibrated, ProbeMet
from firmware_py.journal.probe_record import ProbeRecord

# Readings of so long are held against the reference. Common practice, no source.
OVER_S = 15.0
# What a glass thermometer is good to when nobody says otherwise. Common practice, no source.
GLASS_TOLERANCE_K = 0.2
# A calibration is a year old: time to hold the probe in ice again. Common practice, no source.
REMIND_AFTER = timedelta(days=365)
LOOK_EVERY_S = 3600.0


@dataclass(frozen=True, slots=True)
class ProbeFacts:
    """What the settings say of a probe; ``offset_K`` [K] counts until the probe is calibrated."""

    serial: str = ""
    offset_K: float = 0.0


class Probes:
    """Corrects every probe's words, and calibrates them."""

    def __init__(
        self, places: Mapping[str, str], facts: Mapping[str, ProbeFacts], scribe: Scribe, notices: Notices
    ) -> None:
        self.records: dict[str, ProbeRecord] = {}
        self._facts = {probe: facts.get(probe, ProbeFacts()) for probe in places}
        self._raw: dict[str, deque[Reading]] = {probe: deque() for probe in places}
        self._scribe = scribe
        self._notices = notices
        self._look_next_s = 0.0

    def resume(self, record: ProbeRecord) -> None:
        """Take up what is known of a probe, if it is one of this bench; the newest record counts."""
        facts = self._facts.get(record.probe)
        if facts is None or facts.serial != record.serial:
            return
        known = self.records.get(record.probe)
        if known is None or known.calibrated_utc <= record.calibrated_utc:
            self.records[record.probe] = record

    def calibration(self, probe: str) -> Calibration | None:
        """Return the calibration of a probe, None before the first."""
        record = self.records.get(probe)
        return record.calibration if record is not None else None

    def offset_K(self, probe: str) -> float:
        """Return what is added to a probe's readings [K]: as calibrated, else as set."""
        found = self.calibration(probe)
        return found.offset_K if found is not None else self._facts[probe].offset_K

    def is_old(self, probe: str) -> bool:
        """Return whether a probe's calibration is more than a year old; a wrong wall clock ages nothing."""
        record = self.records.get(probe)
        if record is None or not record.calibrated_utc:
            return False
        return self._scribe.clock.utc() - datetime.fromisoformat(record.calibrated_utc) > REMIND_AFTER

    # --- what devices say ---

    def corrected(self, probe: str, word: Reading | NoReading) -> Reading | NoReading:
        """Take in a probe's own word and return it corrected."""
        if isinstance(word, NoReading) or word.source != "probe":
            return word
        self._remember(self._raw[probe], word)
        bath_degC = word.bath_degC + self.offset_K(probe)
        found = self.calibration(probe)
        tolerance_K = found.tolerance_at_K(bath_degC) if found is not None else word.tolerance_K
        return replace(word, bath_degC=bath_degC, tolerance_K=tolerance_K)

    # --- what a person does ---

    def calibrate(self, act: CalibrateProbe) -> None:
        """Hold a probe's last readings against something known, and correct it from now on."""
        if act.probe not in self._raw:
            raise Refused(f"no probe {act.probe[:60]!r}", where="calibrate", allowed=", ".join(self._raw))
        reference_degC, tolerance_K = _reference(act)
        now_s = self._scribe.clock.now_s()
        raw = [r.bath_degC for r in self._raw[act.probe] if r.taken_s > now_s - OVER_S]
        found = calibrated(raw, reference_degC, tolerance_K)
        self._scribe.follow(
            self._record(act.probe),
            ProbeCalibrated(
                method=act.against,
                offset_K=found.offset_K,
                tolerance_K=found.tolerance_K,
                reference_degC=reference_degC,
                read_degC=reference_degC - found.offset_K,
                readings=len(raw),
            ),
        )
        self._notices.clear("calibration old", about=act.probe)

    def advance(self, now_s: float) -> None:
        """Remind of old calibrations, now and then."""
        if now_s < self._look_next_s:
            return
        self._look_next_s = now_s + LOOK_EVERY_S
        for probe in self._raw:
            if self.is_old(probe):
                words = f"Probe {probe} was calibrated more than a year ago: hold it in melting ice again"
                self._notices.say("calibration old", words, now_s, about=probe)

    def _record(self, probe: str) -> ProbeRecord:
        if probe not in self.records:
            met = ProbeMet(probe=probe, serial=self._facts[probe].serial)
            self.records[probe] = self._scribe.begin(met, ProbeRecord.begin)
        return self.records[probe]

    @staticmethod
    def _remember(raw: deque[Reading], word: Reading) -> None:
        raw.append(word)
        while word.taken_s - raw[0].taken_s > OVER_S:
            raw.popleft()


def _reference(act: CalibrateProbe) -> tuple[float, float]:
    """Return the temperature that the probe is held against [degC] and how well it is known [K]."""
    if act.against == "ice point":
        if act.reference_degC not in {None, ICE_POINT_degC}:
            raise Refused(
                f"ice at {act.reference_degC:g} degC", where="calibrate", allowed="0 degC, or nothing"
            )
        return ICE_POINT_degC, ICE_TOLERANCE_K if act.tolerance_K is None else act.tolerance_K
    if act.reference_degC is None:
        raise Refused(
            "what does the reference thermometer show?", where="calibrate", allowed="its temperature"
        )
    return act.reference_degC, GLASS_TOLERANCE_K if act.tolerance_K is None else act.tolerance_K
