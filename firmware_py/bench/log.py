"""What the controller logs of the bench: starts, relays, probes, steps, troubles; never the name of a plate.

The journal is the record of the work. This is for whoever looks after the machine.
"""

from __future__ import annotations

import logging

from firmware_py.facts.events import heat as he
from firmware_py.facts.events import run as ev

log = logging.getLogger("embertray.bench")
# Without a handler of its own the library would print warnings across whatever terminal there is.
logging.getLogger("embertray").addHandler(logging.NullHandler())

RUN_EVENTS = (
    ev.RunOpened,
    ev.PlateCorrected,
    ev.StepStarted,
    ev.StepEnded,
    ev.PullTakenBack,
    ev.RunResumed,
    ev.RunEnded,
)


def log_session(event: ev.AnyEvent) -> None:
    """Log what happened to the bench itself."""
    match event:
        case ev.BenchStarted():
            kind = "simulated" if event.rehearsal else "configured"
            log.info("started: %s bench, program %s", kind, event.program)
        case ev.BenchStopped():
            log.info("stopped: %s", event.why)
        case ev.RelaySwitched():
            log.info("relay %s %s", event.relay, "on" if event.on else "off")
        case ev.ProbeFellSilent():
            log.warning("probe %s silent: %s", event.probe, event.why)
        case ev.ProbeSpokeAgain():
            log.info("probe %s reads again: %.2f degC", event.probe, event.bath_degC)
        case he.HeatStopped():
            log.warning("heater stopped by %s", event.watcher)
        case _:
            log.debug("%s", event)


def log_run(run_id: str, event: ev.AnyEvent) -> None:
    """Log where a run is, by the end of its id and the number of its step: a plate's name is its owner's."""
    if not isinstance(event, RUN_EVENTS):
        return
    step = f" step {event.step + 1}" if isinstance(event, ev.StepStarted | ev.StepEnded) else ""
    log.info("run %s: %s%s", run_id[-8:], type(event).__name__, step)


def log_trouble(kind: str, words: str) -> None:
    """Log a trouble of the bench by its kind; its words may name a plate and are for the debug level."""
    log.warning("trouble: %s", kind)
    log.debug("trouble: %s: %s", kind, words)
