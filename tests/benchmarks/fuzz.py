"""Feed every parser of outside bytes spoilt ones: ``python -m tests.benchmarks.fuzz [--cases N] [NAME …]``.

Reports for each parser how many cases it took, refused, or broke on, and how long the slowest took. A parser
breaks that raises anything but the refusals it promises, or takes longer than `HANG_S`.
"""

import argparse
import signal
import sys
import tempfile
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from firmware_py.devices.clock import BootClock
from tests.benchmarks.fuzz_parsers import Parser, parsers
from tests.benchmarks.measuring import table

CASES = 100_000
HANG_S = 10.0
CLOCK = BootClock()
# What parsers trip over: ends and beginnings, numbers that are none or too much, what nests, what is no text.
TOKENS = (
    *(b"", b"\0", b"\n", b"\r", b"\t", b" " * 50, b"\xff", b"\xc3", b"\xed\xa0\x80", b"\xf0\x9f\x94\xa5"),
    *(b"\x1b[", b"nan", b"inf", b"-0", b"1e999", b"-1", b"0x1", b"1_0", b"9" * 400, b"1e-400", b"\xc2\xbd"),
    *(b"\xd9\xa3", b"[" * 200, b"{" * 200, b'{"a":' * 200, b'"', b"'", b'"""', b"\\", b"\\u0000", b"\\ud800"),
    *(
        b"}",
        b"]",
        b"null",
        b"true",
        b"[]",
        b"{}",
        b",",
        b":",
        b"=",
        b".",
        b"#",
        b" K",
        b" degC",
        b"[[",
        b"]]",
    ),
    *(b"]]", b"%s", b"{0}"),
)


@dataclass
class Outcome:
    """What came of the cases of one parser; ``broken`` counts by where, with the shortest ``example``."""

    taken: int = 0
    refused: int = 0
    slowest_s: float = 0.0
    broken: Counter[str] = field(default_factory=Counter)
    example: dict[str, bytes] = field(default_factory=dict)

    @property
    def cases(self) -> int:
        return self.taken + self.refused + self.broken.total()


class HangError(Exception):
    """A parser that took too long."""


def spoilt(samples: list[bytes], dice: Random) -> bytes:
    """Return bytes that were good once, with pieces cut out, put in or doubled; now and then any at all."""
    if dice.random() < 0.1:
        return dice.randbytes(dice.randrange(300))
    data = bytearray(dice.choice(samples))
    for _ in range(dice.choice((0, 1, 1, 1, 2, 2, 4))):
        at = dice.randrange(len(data) + 1)
        length = dice.choice((0, 0, 1, 1, 2, 5, 20, 100, 1000))
        new = dice.choice((dice.choice(TOKENS), dice.randbytes(dice.randrange(5)), bytes(data[at : at + 30])))
        data[at : at + length] = new
    return bytes(data)


def fuzz(parser: Parser, cases: int) -> Outcome:
    """Return what came of so many cases. A case that breaks the parser does not end the run."""
    outcome, samples = Outcome(), parser.samples()

    @settings(
        max_examples=cases,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(st.integers(0, 2**64 - 1))
    def one(seed: int) -> None:
        # One draw a case: drawing each edit from hypothesis takes ten times as long as most parsers do.
        data = spoilt(samples, Random(seed))
        begun_s = CLOCK.now_s()
        feed(parser, data, outcome)
        outcome.slowest_s = max(outcome.slowest_s, CLOCK.now_s() - begun_s)

    with alarm():
        one()
    return outcome


def feed(parser: Parser, data: bytes, outcome: Outcome) -> None:
    signal.setitimer(signal.ITIMER_REAL, HANG_S)
    try:
        parser.parse(data)
    except parser.refuses:
        outcome.refused += 1
    except Exception as error:  # noqa: BLE001 - whatever it is, it is what is looked for
        last = traceback.extract_tb(error.__traceback__)[-1]
        where = f"{type(error).__name__} in {Path(last.filename).name}, line {last.lineno}"
        outcome.broken[where] += 1
        outcome.example[where] = min(outcome.example.get(where, data), data, key=len)
    else:
        outcome.taken += 1
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0.0)


@contextmanager
def alarm() -> Iterator[None]:
    """Let the timer raise `HangError`."""

    def ring(number: int, frame: object) -> None:
        raise HangError(f"no end within {HANG_S:g} s")

    before = signal.signal(signal.SIGALRM, ring)
    try:
        yield
    finally:
        signal.signal(signal.SIGALRM, before)


def report(outcomes: dict[str, Outcome], say: Callable[[str], None] = print) -> int:
    """Say what came of it; return 1 if anything broke."""
    rows = [
        (
            name,
            f"{o.cases:,}",
            f"{o.taken:,}",
            f"{o.refused:,}",
            f"{o.broken.total():,}",
            f"{o.slowest_s * 1e3:.1f}",
        )
        for name, o in outcomes.items()
    ]
    say(table(("parser", "cases", "taken", "refused", "broken", "slowest, ms"), rows))
    for name, outcome in outcomes.items():
        for where, count in outcome.broken.most_common():
            say(f"{name}: {count} x {where}\n    {outcome.example[where][:300]!r}")
    return 1 if any(outcome.broken for outcome in outcomes.values()) else 0


def main(arguments: list[str]) -> int:
    """Fuzz the parsers that are named, or all of them."""
    reader = argparse.ArgumentParser(prog="python -m tests.benchmarks.fuzz")
    reader.add_argument("names", nargs="*", metavar="NAME", help="parsers whose name holds this")
    reader.add_argument("--cases", type=int, default=CASES, help=f"for each parser ({CASES:,})")
    asked = reader.parse_args(arguments)
    outcomes: dict[str, Outcome] = {}
    with tempfile.TemporaryDirectory(dir="/dev/shm" if Path("/dev/shm").is_dir() else None) as folder:
        for parser in parsers(Path(folder)):
            if not asked.names or any(name in parser.name for name in asked.names):
                outcomes[parser.name] = fuzz(parser, asked.cases)
                print(f"{parser.name}: done", file=sys.stderr)
    return report(outcomes)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
