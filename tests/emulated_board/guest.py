"""What runs on the emulated board: light the lamp, strike, watch its line from outside, say it in JSON."""

import json
import signal
import sys
import threading
import traceback
from pathlib import Path

from firmware_py.devices.clock import BootClock
from tests.emulated_board.bench_process import LAMP, BenchProcess
from tests.emulated_board.pins_from_outside import look, wait_until

CLOCK = BootClock()
# What the issue asks for: the line is low this long after whatever is done to one process, or to both.
DARK_WITHIN_S = 1.5
STRIKES = [
    (victims, number)
    for victims in ("switchboard", "controller", "both")
    for number in (signal.SIGKILL, signal.SIGTERM, signal.SIGSTOP)
    if (victims, number) != ("both", signal.SIGTERM)
]
EXPOSURES_S = (0.5, 2.0, 5.0)
STAYS_DARK_S = 1.0
PERSISTENCE = Path("/sys/module/pinctrl_bcm2835/parameters/persist_gpio_outputs")


def say(**facts: object) -> None:
    """Tell the machine outside one thing."""
    print("@" + json.dumps(facts), flush=True)


def expose(bench: BenchProcess) -> None:
    """Make exposures, and measure each at the line from outside."""
    for wanted_s in EXPOSURES_S:
        lit_s = bench.expose(wanted_s)
        dark_s = wait_until(LAMP, lit=False, within_s=wanted_s + 5.0, clock=CLOCK)
        # A stays-dark look is also the pause that the lamp must have before the next.
        wait_until(LAMP, lit=True, within_s=STAYS_DARK_S, clock=CLOCK)
        say(what="exposure", wanted_s=wanted_s, seen_s=dark_s and dark_s - lit_s)


def strike(folder: Path, victims: str, number: signal.Signals) -> None:
    """Light the lamp for long, strike, and say how long its line stayed lit and whether it stays dark."""
    bench = BenchProcess(folder, CLOCK)
    try:
        bench.expose(300.0)
        within_s = DARK_WITHIN_S
        struck_s = bench.strike(victims, number)
        managed = threading.Thread(target=bench.be_its_manager) if victims == "both" else None
        if managed is not None:
            managed.start()
        dark_s = wait_until(LAMP, lit=False, within_s=within_s + 10.0, clock=CLOCK)
        again_s = dark_s and wait_until(LAMP, lit=True, within_s=STAYS_DARK_S, clock=CLOCK)
        if managed is not None:
            managed.join()
        say(
            what="strike",
            victims=victims,
            signal=number.name,
            within_s=within_s,
            dark_s=dark_s and dark_s - struck_s,
            lit_again=again_s is not None and dark_s is not None,
            left_as=look(LAMP).function,
        )
    finally:
        bench.end()


def main() -> int:
    """Run everything; say what went wrong, as the machine outside sees only this."""
    say(what="board", persistence=PERSISTENCE.read_text().strip(), python=sys.version.split()[0])
    try:
        bench = BenchProcess(Path("/tmp/exposures"), CLOCK)
        try:
            expose(bench)
        finally:
            bench.end()
        for number, (victims, blow) in enumerate(STRIKES):
            strike(Path(f"/tmp/strike-{number}"), victims, blow)
    except Exception:  # noqa: BLE001 - whatever it is, it must be said: nobody sees a traceback here
        say(what="failure", words=traceback.format_exc())
        return 1
    say(what="over")
    return 0


if __name__ == "__main__":
    sys.exit(main())
