"""A probe that vanishes, lies, stands still, jumps, drifts, takes five seconds, or never answers."""

from __future__ import annotations

from random import Random

from tests.faults.evidence import Struck
from tests.faults.kinds.fault import Fault, Needs
from tests.faults.stage.folder import PROBES
from tests.faults.stage.moments import now_s
from tests.faults.stage.stage import Stage
from tests.faults.stage.wire import ProbeMode

# A reading is old after 5 s, an impossible one is seen at the next reading; words come within 2 s of that.
SILENT_S, WRONG_S, SAID_S = 7.6, 2.6, 3.1
SAYS = r"(?i)probe developer"


def _become(mode: ProbeMode, probe: str | None) -> object:
    def strike(stage: Stage, dice: Random, struck: Struck) -> None:
        name = probe or dice.choice(sorted(PROBES))
        struck.notes["probe"] = name
        struck.at_s = now_s()
        stage.water.probes[name].become(mode)

    return strike


def _well(stage: Stage, struck: Struck) -> None:
    stage.water.probes[struck.notes["probe"]].become("well")


def _fault(name: str, mode: ProbeMode, outcome: str, *, of: str | None = None, says: str = "") -> Fault:
    needs = Needs.HEAT if of == "jacket" else Needs.PLATE
    of_heat_s = SILENT_S if mode in {"gone", "85", "bad checksum", "hung"} else WRONG_S
    return Fault(
        name,
        outcome,
        _become(mode, of),  # type: ignore[arg-type]
        _well,
        lasts_s=(0.5, 2.5),
        judged_after_s=of_heat_s if of == "jacket" else SAID_S if says else 0.0,
        needs=needs,
        says=says,
        known_after_s=1.0,  # it is asked once a second
    )


TREND = "the timer goes on by the trend; the page says so and asks for a temperature by hand"
OFF = "the heater goes off and waits"
FAULTS = (
    _fault("probe gone", "gone", TREND, of="developer", says=SAYS),
    _fault("probe at 85.0", "85", TREND, of="developer", says=SAYS),
    _fault("probe with a bad checksum", "bad checksum", TREND, of="developer", says=SAYS),
    _fault("probe frozen", "frozen", "a tray that stands still is no fault that can be seen", of="developer"),
    _fault("probe jumps by 10 K", "jump", TREND, of="developer", says=SAYS),
    _fault("probe drifts", "drift", "seen after a minute; until then it is believed", of="developer"),
    _fault("probe takes 5 s", "slow", TREND, of="developer"),
    _fault("probe never answers", "hung", TREND, of="developer"),
    _fault("jacket probe gone", "gone", OFF, of="jacket"),
    _fault("jacket probe at 85.0", "85", OFF, of="jacket"),
    _fault("jacket probe with a bad checksum", "bad checksum", OFF, of="jacket"),
    _fault("jacket probe jumps by 10 K", "jump", OFF, of="jacket"),
    _fault("jacket probe too hot", "hot", "the heater goes off until a person acts", of="jacket"),
    _fault("jacket probe takes 5 s", "slow", OFF, of="jacket"),
    _fault("jacket probe never answers", "hung", OFF, of="jacket"),
)
