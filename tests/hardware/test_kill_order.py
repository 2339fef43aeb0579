"""The real processes, ended in the order that the unit gives: frozen, and in good order."""

import os
import signal

import pytest

from firmware_py.journal.store import Journal
from tests.hardware.service_manager import Group, ServiceManager
from tests.service.served_bench import LAMP, SAFELIGHT, served, wait_for
from tests.switchboard.pin_watch import spans


class Lit:
    """A served bench with its lamp lit, or with a plate in the developer and its safelight on."""

    def __init__(self, bench):
        self.bench = bench
        self.client = bench.client()
        self.group = Group(bench.process.pid)

    def light_lamp(self):
        assert self.client.do("open-print", negative="glass", paper="contact paper")["message"] == "done"
        assert self.client.do("set-base", base_s=300.0)["message"] == "done"
        assert self.client.do("expose")["message"] == "done"
        wait_for(lambda: self.is_lit(LAMP))

    def develop(self):
        assert self.client.do("switch-safelight", on=True)["message"] == "done"
        opened = self.client.do("open-run", plate="Kvarnvik 3", routine="metol-hydroquinone")
        assert opened["message"] == "done"
        assert self.client.do("proceed")["message"] == "done"
        wait_for(lambda: self.is_lit(SAFELIGHT))

    def is_lit(self, pin):
        found = spans(self.bench.pin_record, pin)
        return bool(found) and found[-1].off_s == float("inf")

    def freeze_all(self):
        self.group.send(signal.SIGSTOP, main_only=False)


@pytest.fixture
def lit(tmp_path):
    with served(tmp_path) as bench:
        lit = Lit(bench)
        yield lit
        lit.group.close()
        assert bench.process is not None
        assert bench.process.stderr is not None
        bench.process.wait()
        bench.process.stderr.close()


def test_frozen_processes_are_all_killed_so_that_their_lines_are_free_to_be_cleared(lit):
    lit.light_lamp()
    lit.freeze_all()
    ServiceManager(lit.bench.config).lose_patience(lit.group)
    assert not lit.is_lit(LAMP)


def test_killing_the_main_process_alone_would_leave_the_lamp_lit(lit):
    """What the unit once said: the frozen switchboard holds its lines, and nobody else can drive them."""
    lit.light_lamp()
    lit.freeze_all()
    ServiceManager(lit.bench.config, kill_mode="mixed").lose_patience(lit.group)
    assert lit.is_lit(LAMP)


def test_with_the_guardian_alive_frozen_processes_need_no_manager(lit):
    lit.light_lamp()
    for module in ("firmware_py.switchboard", "serve"):
        os.kill(lit.group.pid_of(module), signal.SIGSTOP)
    wait_for(lambda: not lit.is_lit(LAMP))


def test_an_ordinary_stop_leaves_the_relays_safe_the_run_open_and_no_trouble_in_the_book(lit):
    lit.develop()
    assert ServiceManager(lit.bench.config).stop(lit.group)
    assert lit.bench.process.wait() == 0
    assert [
        line for line in lit.bench.process.stderr.read().splitlines() if not line.startswith(b"INFO ")
    ] == []
    assert not lit.is_lit(SAFELIGHT)
    with Journal.open(lit.bench.journal) as journal:
        written = [entry.event for name in journal.subjects() for entry in journal.read(name)]
        assert len(journal.open_runs()) == 1
    kinds = [type(event).__name__ for event in written]
    assert "FaultSeen" not in kinds
    assert kinds.count("BenchStopped") == 1
