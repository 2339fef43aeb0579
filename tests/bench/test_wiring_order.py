"""In what order a bench's devices are opened, and that nothing stays open when one of them refuses."""

import pytest

from firmware_py.bench import wiring
from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import SimulatedClock
from firmware_py.journal.store import Journal
from firmware_py.settings import read_settings
from firmware_py.switchboard.process import ProcessSwitchboard


class Opened:
    """A device that notes in a shared list what happens to it."""

    def __init__(self, name, notes):
        self.name, self.notes = name, notes
        notes.append(f"open {name}")

    def close(self):
        self.notes.append(f"close {self.name}")


@pytest.fixture
def settings(tmp_path):
    path = tmp_path / "bench.toml"
    path.write_text('[bench]\npins = "mock"\n[relay.safelight]\npin = 17\n', encoding="utf-8")
    return read_settings(path)


async def test_the_switchboard_is_started_last_and_its_refusal_closes_what_is_open(
    settings, tmp_path, monkeypatch
):
    # On a slow board the controller's own devices take longer to open than the switchboard waits for a beat.
    notes: list[str] = []

    async def refuse(switchboard):
        notes.append("start switchboard")
        raise Refused("no chip")

    monkeypatch.setattr(
        wiring, "_foot_and_sounder", lambda *_: (Opened("foot", notes), Opened("sounder", notes))
    )
    monkeypatch.setattr(ProcessSwitchboard, "start", refuse)
    with Journal.open(tmp_path / "journal.db") as journal, pytest.raises(Refused, match="no chip"):
        await wiring.wired_bench(settings, SimulatedClock(), journal)
    assert notes == ["open foot", "open sounder", "start switchboard", "close foot", "close sounder"]
