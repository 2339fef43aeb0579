"""Every parser of bytes that come from outside, with what it may be given and the refusals it promises."""

import io
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, get_args

import msgspec

from firmware_py.bench.bench import Bench, BenchPlan
from firmware_py.bench.routines import read_routine
from firmware_py.bench.vocabulary import read_vocabulary
from firmware_py.craft import units
from firmware_py.craft.refusal import Refused
from firmware_py.data.formulary import read_formula
from firmware_py.devices.clock import SimulatedClock
from firmware_py.devices.instrument_text import NumberPattern
from firmware_py.devices.onewire import read_w1_slave
from firmware_py.facts.acts.run import AnyAct
from firmware_py.journal import lines
from firmware_py.journal.copies import write_lines
from firmware_py.journal.reading import JournalReader
from firmware_py.journal.recover import open_or_recover
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from firmware_py.rehearsal.script import read_script
from firmware_py.rehearsal.world import read_trace
from firmware_py.service.messages import Do, FromController, ToController
from firmware_py.settings import read_settings
from firmware_py.switchboard import lines as switchboard_lines
from firmware_py.switchboard.last_words import read_last_words
from firmware_py.switchboard.wired_lines import wired_lines
from tests.bench.bench_at_hand import PLAIN
from tests.devices.w1_folder import scratchpad, w1_slave
from tests.journal.making import run_entries, subject

ROOT = Path(__file__).parents[2]
DATA = ROOT / "firmware_py" / "data"


@dataclass(frozen=True)
class Parser:
    """A parser under a name; ``parse`` takes bytes, and raises one of ``refuses`` for what it does not take.

    ``samples`` are good ones, which are changed here and there.
    """

    name: str
    parse: Callable[[bytes], object]
    samples: Callable[[], list[bytes]]
    refuses: tuple[type[Exception], ...] = (Refused,)


def parsers(folder: Path) -> list[Parser]:
    """Return them all; those that read files are given files in ``folder``."""
    return [
        Parser("1-Wire text", lambda data: read_w1_slave(data.decode("latin-1"), "28"), _one_wire),
        Parser("serial line", NumberPattern("T2={} C").read, _serial_lines),
        Parser("SCPI answer", NumberPattern("{}").read, _scpi_answers),
        Parser("quantity", _quantity, _quantities),
        Parser("settings", _of_file(folder / "bench.toml", read_settings), lambda: [_BENCH, _own_bench()]),
        Parser("relay lines", _of_file(folder / "lines.toml", wired_lines), lambda: [_BENCH, _own_bench()]),
        Parser("formula", _of_file(folder / "formula.toml", read_formula), lambda: _files("formulas")),
        Parser("routine", _of_file(folder / "routine.toml", read_routine), lambda: _files("routines")),
        Parser("script", _of_file(folder / "script.toml", read_script), lambda: _files("scripts")),
        Parser(
            "marks",
            _of_file(folder / "marks.toml", read_vocabulary),
            lambda: [(DATA / "marks.toml").read_bytes()],
        ),
        Parser("CSV trace", _of_file(folder / "trace.csv", read_trace), lambda: [_TRACE]),
        Parser("socket, to the bench", _to_controller, _messages, (Refused, *_NOT_UNDERSTOOD)),
        Parser("socket, to a screen", _from_controller, _answers, _NOT_UNDERSTOOD),
        Parser("switchboard command", switchboard_lines.read_command, _commands),
        Parser("switchboard report", switchboard_lines.read_report, _reports),
        Parser("last words", _of_file(folder / "journal.lamp", read_last_words), _reports),
        Parser("export", _export, lambda: [_journal()[1]]),
        Parser("damaged journal", lambda data: _recover(folder, data), lambda: [_journal()[0]]),
        Parser("journal file", _of_file(folder / "journal.db", verify), lambda: [_journal()[0]]),
    ]


# --- how each is called ---

# What the socket's two ends take for "not understood".
_NOT_UNDERSTOOD = (msgspec.DecodeError, UnicodeError, RecursionError)
_decode_to = msgspec.json.Decoder(ToController).decode
_decode_from = msgspec.json.Decoder(FromController).decode


def _of_file(path: Path, parse: Callable[[Path], object]) -> Callable[[bytes], object]:
    def of_bytes(data: bytes) -> object:
        path.write_bytes(data)
        return parse(path)

    return of_bytes


def _recover(folder: Path, data: bytes) -> object:
    """Open a journal as the controller does at its start."""
    with tempfile.TemporaryDirectory(dir=folder) as own:
        path = Path(own) / "journal.db"
        path.write_bytes(data)
        journal, words = open_or_recover(path)
        journal.close()
        return words


def _quantity(data: bytes) -> object:
    text = data.decode("utf-8", "replace")
    refused = None
    for read in (units.read_time_s, units.read_mass_g, units.read_temperature_degC, units.read_volume_ml):
        try:
            return read(text, where="here")
        except Refused as refusal:
            refused = refusal
    raise refused or AssertionError


def _to_controller(data: bytes) -> object:
    """Understand a line, and do the act on it as the bench would."""
    message = _decode_to(data)
    if isinstance(message, Do):
        bench = Bench(BenchPlan({"plain": PLAIN}, {"glass": "tray 1"}), SimulatedClock())
        bench.do(message.act)
        bench.advance()
    return message


def _from_controller(data: bytes) -> object:
    return _decode_from(data)


def _export(data: bytes) -> object:
    return list(lines.read(io.BytesIO(data), "export"))


# --- good ones ---

_BENCH = (ROOT / "hardware" / "bench.toml").read_bytes()
_TRACE = b"time_s,bath_degC\n0,20.0\n30,19.8\n60.5,19.75\n"


def _own_bench() -> bytes:
    from tests.test_settings import GOOD

    return GOOD.encode()


def _files(room: str) -> list[bytes]:
    return [path.read_bytes() for path in sorted((DATA / room).glob("*.toml"))]


def _one_wire() -> list[bytes]:
    return [w1_slave(scratchpad(degrees)).encode() for degrees in (20.0, -3.5, 0.0, 85.0)]


def _serial_lines() -> list[bytes]:
    return [b"T1=18.0 C;T2=21.5 C", b"  T2=-0,25 C", b"T2=+2.15E+01 C\xb0"]


def _scpi_answers() -> list[bytes]:
    return [b"+2.00000000E+01", b"9.91E37", b'-113,"Undefined header"', b"20.5 \xb0C"]


def _quantities() -> list[bytes]:
    return [b"7 min 30 s", b"20 degC", "68 °F".encode(), b"437 gr", b"2 oz apothecary", b"1/2 oz", b"0x10 s"]


def _messages() -> list[bytes]:
    """Return a line of each kind, and one for each act that a person can ask for."""
    said: list[dict[str, Any]] = [
        {"message": "hello", "protocol": 1, "client": "screen"},
        {"message": "beat"},
    ]
    said += [{"message": "do", "ticket": n, "act": _plain(act)} for n, act in enumerate(get_args(AnyAct))]
    return [msgspec.json.encode(each) for each in said]


def _plain(act: type[msgspec.Struct]) -> dict[str, Any]:
    """Return an act with the plainest value in every field that it must have."""
    kind = msgspec.inspect.type_info(act)
    assert isinstance(kind, msgspec.inspect.StructType)
    required = {field.encode_name: _plainest(field.type) for field in kind.fields if field.required}
    return {str(kind.tag_field): kind.tag, **required}


def _plainest(kind: Any) -> Any:
    match kind:
        case msgspec.inspect.LiteralType():
            return kind.values[0]
        case msgspec.inspect.StrType():
            return "plain"
        case msgspec.inspect.IntType() | msgspec.inspect.FloatType():
            return 1
        case msgspec.inspect.BoolType():
            return True
        case msgspec.inspect.Metadata():
            return _plainest(kind.type)
        case _:
            return []


def _answers() -> list[bytes]:
    return [
        b'{"message":"welcome","protocol":1,"program":"0.1.0","rehearsal":true}',
        b'{"message":"done","ticket":3}',
        b'{"message":"refusal","words":"no tray 7; allowed: 1 to 6","ticket":null}',
    ]


def _commands() -> list[bytes]:
    from firmware_py.switchboard.commands import Beat, Expose, Switch
    from tests.switchboard.wiring import configure

    said = (configure("pins.txt"), Beat(7), Switch("safelight", True), Expose("a", "printing-lamp", 8.0, 9.0))
    return [switchboard_lines.write_line(each).strip() for each in said]


def _reports() -> list[bytes]:
    from firmware_py.switchboard.reports import Alive, ExposureEnded, SwitchboardReady

    ended = ExposureEnded("a", "printing-lamp", 100.0, 108.0, "time", 0.0)
    said = (SwitchboardReady("mock", realtime=False, locked=True), Alive(7), ended)
    return [switchboard_lines.write_line(each).strip() for each in said]


@cache
def _journal() -> tuple[bytes, bytes]:
    """Return a small journal as a file and as an export."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "journal.db"
        with Journal.open(path, ballast_bytes=4096) as journal:
            journal.append(run_entries(subject(1)))
        exported = io.BytesIO()
        with JournalReader.open(path) as reader:
            write_lines(reader.connection, exported)
        return path.read_bytes(), exported.getvalue()
