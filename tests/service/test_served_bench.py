"""The real processes: a controller on mock pins and a fake wire, killed, starved and shouted at."""

from __future__ import annotations

import json
import signal
import socket
import stat
from pathlib import Path

import pytest

from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from firmware_py.service.client import RETRY_S
from firmware_py.service.messages import LINE_LIMIT, PROTOCOL, SILENT_S
from firmware_py.service.served_client import HELLO_S
from firmware_py.service.server import MOST_CLIENTS
from tests.service.served_bench import CLOCK, SAFELIGHT, Plain, ServedBench, pause, served, wait_for


@pytest.fixture
def bench(tmp_path: Path):
    with served(tmp_path) as running:
        yield running


def probe_reads(client: Plain, bath_degC: float) -> bool:
    return bool(client.look()["probes"]) and client.look()["probes"][0]["bath_degC"] == bath_degC


def test_the_wire_is_really_read_survives_vanishing_and_the_hand_takes_over(bench: ServedBench):
    """A file that vanishes gives no reading; the person's thermometer counts; the probe may come back."""
    client = bench.client()
    wait_for(lambda: probe_reads(client, 20.0))
    bench.warm(18.5)
    wait_for(lambda: probe_reads(client, 18.5))
    client.do("open-run", plate="Kvarnvik 3", routine="metol-hydroquinone")
    client.do("proceed")
    wait_for(lambda: client.look()["lanes"][0]["bath"]["source"] == "probe")
    refused = client.do("say-temperature", bath_degC=17.0)
    assert refused["message"] == "refusal"
    bench.wire.unlink()
    wait_for(lambda: client.look()["lanes"][0]["bath"]["source"] == "trend")
    wait_for(lambda: any("give the temperature by hand" in n["words"] for n in client.look()["notices"]))
    assert client.do("say-temperature", bath_degC=17.0)["message"] == "done"
    assert client.look()["lanes"][0]["bath"]["bath_degC"] == 17.0
    bench.warm(17.5)
    wait_for(lambda: client.look()["lanes"][0]["bath"]["source"] == "probe")
    assert client.look()["lanes"][0]["state"] == "running"


def test_a_killed_controller_leaves_the_relays_safe_and_the_run_whole(bench: ServedBench):
    """SIGKILL in mid-run: off within 1.1 s; the next controller goes on where time really is."""
    client = bench.client()
    wait_for(lambda: probe_reads(client, 20.0))
    client.do("switch-safelight", on=True)
    client.do("open-run", plate="Kvarnvik 3", routine="metol-hydroquinone")
    assert client.do("proceed")["message"] == "done"
    started_s = client.look()["lanes"][0]["started_s"]
    wait_for(lambda: client.look()["lanes"][0]["equivalent_s"] > 2.0)
    assert client.do("mark", what="image appears")["message"] == "done"
    killed_s = bench.kill()

    # Its own line's entries: the guardian drives every line once more.
    wait_for(lambda: not [on for _, line, on in bench.pins() if line == SAFELIGHT][-1])
    off_s = next(at_s for at_s, line, on in bench.pins() if line == SAFELIGHT and not on and at_s >= killed_s)
    assert off_s - killed_s < 1.1

    with Journal.open(bench.journal) as journal:
        (run_id,) = journal.subjects("RunOpened")
        before = journal.read(run_id)
    assert [e.number for e in before] == list(range(1, len(before) + 1))

    bench.start()
    client = bench.client()
    lane = client.look()["lanes"][0]
    assert lane["run_id"] == run_id
    assert lane["state"] == "running"
    assert [m["what"] for m in lane["marks"]] == ["image appears"]
    assert lane["started_s"] == pytest.approx(started_s, abs=1e-6)
    wait_for(lambda: client.look()["lanes"][0]["bath"]["source"] == "probe")
    view = client.look()
    lasted_s = view["as_of_s"] - started_s
    # At 20 degC, the reference temperature, equivalent and real seconds are the same.
    assert view["lanes"][0]["equivalent_s"] == pytest.approx(lasted_s, abs=0.05)
    assert not view["relays"][0]["on"]
    bench.kill(signal.SIGTERM)
    with Journal.open(bench.journal) as journal:
        after = journal.read(run_id)
    assert after[: len(before)] == before
    assert RunRecord.replay(after).marks[0].what == "image appears"


def test_a_journal_damaged_in_mid_run_is_mended_at_the_start_and_the_run_goes_on(bench: ServedBench):
    """One flipped bit in a mark: found, mended and said; the damaged file is kept."""
    client = bench.client()
    client.do("open-run", plate="Kvarnvik 3", routine="metol-hydroquinone")
    client.do("proceed")
    assert client.do("mark", what="image appears")["message"] == "done"
    bench.kill()
    Journal.open(bench.journal).close()
    good = bench.journal.read_bytes()
    damaged = good.replace(b'"what":"image appears"', b'"what":"image appeass"')
    assert damaged != good
    bench.journal.write_bytes(damaged)

    bench.start()
    client = bench.client()
    view = client.look()
    assert [m["what"] for m in view["lanes"][0]["marks"]] == ["image appears"]
    assert any("1 of them mended" in notice["words"] for notice in view["notices"])
    assert (bench.state / "journal.damaged-1.db").read_bytes() == damaged


def test_malformed_and_oversized_lines_are_answered_and_survived(bench: ServedBench):
    """Each gets one line back; the bench goes on."""
    client = bench.client()
    nested, cut, no_text = b"[" * 5000 + b"\n", b'{"message":"do","ticket":1}\n', b'{"message":"be\xff"}\n'
    for line in (b"hello\n", b"{}\n", nested, cut, no_text, b"\xff\xfe\n"):
        client.send(line)
        assert "not understood" in client.hear()["what"]
    assert client.do("mark", what="x" * 201)["message"] == "refusal"
    loud = bench.stranger()
    loud.send(b"x" * (LINE_LIMIT * 3) + b"\n")
    assert "longer than" in loud.hear()["what"]
    assert loud.lines.readline() == b""
    assert client.look()["as_of_s"] > 0


def test_a_client_must_greet_first_and_in_the_right_protocol(bench: ServedBench):
    """A stranger is told what to say."""
    bench.client()
    stranger = bench.stranger()
    assert "first" in stranger.ask(message="look")["what"]
    assert "protocol 9" in stranger.ask(message="hello", protocol=9)["what"]


def test_silent_connections_do_not_lock_a_screen_out(bench: ServedBench):
    """Greeted or not, they give way to whoever comes; one that shows life, or has lit the lamp, stays."""
    lit = bench.client()
    for act, rest in (
        ("open-print", {"negative": "glass", "paper": "contact paper"}),
        ("set-base", {"base_s": 60.0}),
        ("expose", {}),
    ):
        assert lit.do(act, **rest)["message"] == "done"
    silent = [bench.stranger() for _ in range(MOST_CLIENTS)]
    for greeted in silent[: MOST_CLIENTS // 2]:
        greeted.socket.sendall(json.dumps({"message": "hello", "protocol": PROTOCOL}).encode() + b"\n")
    screens = []
    hello = {"message": "hello", "protocol": PROTOCOL}
    for _ in range(3):
        pause(SILENT_S)
        # A screen that is refused tries again, as its client does.
        while (screen := bench.stranger()).ask(**hello)["message"] != "welcome":
            pause(RETRY_S)
        screens.append(screen)
    for screen in (lit, *screens):
        assert screen.look()["print"]["is_open"]


def test_a_connection_that_never_greets_is_dropped(bench: ServedBench):
    """Else it would keep a controller that ends when it is alone from ending."""
    bench.client()
    silent = bench.stranger()
    began_s = CLOCK.now_s()
    assert silent.lines.readline() == b""
    assert CLOCK.now_s() - began_s >= HELLO_S - 0.5


def test_a_client_that_never_reads_is_dropped_and_harms_nobody(bench: ServedBench):
    """Others go on being served while its buffer fills; then it is gone."""
    client = bench.client()
    deaf = bench.client()
    deaf.socket.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
    for _ in range(2000):
        try:
            deaf.send(b'{"message":"look"}\n')
        except OSError:
            break
    slowest_s = 0.0
    for _ in range(20):
        asked_s = CLOCK.now_s()
        client.look()
        slowest_s = max(slowest_s, CLOCK.now_s() - asked_s)
        pause(0.15)
    # A bench that waited for the deaf client would answer after its time-out of 2 s, or never.
    assert slowest_s < 2.0


def test_only_its_own_user_can_open_the_socket_and_the_journal(bench: ServedBench):
    """0600 on the files, 0700 on the folder."""
    bench.client()
    assert stat.S_IMODE(bench.socket.stat().st_mode) == 0o600
    assert stat.S_IMODE(bench.journal.stat().st_mode) == 0o600
    assert stat.S_IMODE(bench.state.stat().st_mode) == 0o700


def test_a_controller_that_ends_has_no_error_to_log_also_with_clients_and_a_folder_it_can_not_write(
    bench: ServedBench,
):
    """Found by the storm: asyncio printed clients let go as errors; a socket that stays was a traceback."""
    for _ in range(3):
        bench.client()
    for path in (bench.config, bench.socket):
        assert path.exists()
    assert bench.process is not None
    assert bench.process.stderr is not None
    bench.socket.unlink()
    bench.socket.mkdir()  # what can not be unlinked, also where the test runs as root
    bench.process.send_signal(signal.SIGTERM)
    assert bench.process.wait(10.0) == 0
    lines = bench.process.stderr.read().decode().splitlines()
    assert [line for line in lines if not line.startswith("INFO embertray.")] == []
    bench.process.stderr.close()


def test_a_second_controller_on_the_same_bench_is_refused(bench: ServedBench):
    """One writer, one owner of the relays."""
    bench.client()
    again = ServedBench(bench.folder)
    again.start()
    assert again.process is not None
    assert again.process.stderr is not None
    assert again.process.wait(40.0) == 1
    said = again.process.stderr.read().decode()
    again.process.stderr.close()
    assert "another program writes it" in said
    assert said.count("\n") == 1


def test_a_bench_that_is_wired_wrongly_says_so_and_starts_nothing(tmp_path: Path):
    """One line on stderr, exit 1, no socket."""
    bench = ServedBench(tmp_path)
    bench.config.write_text(bench.config.read_text().replace("pin = 22", "pin = 17"))
    bench.start()
    assert bench.process is not None
    assert bench.process.stderr is not None
    assert bench.process.wait(40.0) == 1
    said = bench.process.stderr.read().decode()
    bench.process.stderr.close()
    assert "both use pin 17" in said
    assert said.count("\n") == 1
    assert not bench.state.exists()
