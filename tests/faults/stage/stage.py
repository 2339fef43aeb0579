"""One session's bench with all that is around it, carried on step by step by whoever plays on it."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

import firmware_py
from tests.faults.evidence import Evidence, Seen
from tests.faults.eyes.pins import is_lit
from tests.faults.stage.folder import HEATER, LAMP, BenchFolder
from tests.faults.stage.hosted import Ended, Hosted, fork
from tests.faults.stage.instrument import Instrument
from tests.faults.stage.lines import Mouth, Watcher
from tests.faults.stage.moments import now_s, pause
from tests.faults.stage.seams import DEFECT, lay
from tests.faults.stage.stall import StallMeter
from tests.faults.stage.terminal import Terminal
from tests.faults.stage.wire import Water

STEP_S = 0.02
# A service manager waits before it starts a service anew; here shorter, for sessions are short.
RESTART_AFTER_S = 0.2
START_S = 20.0
CODE = str(Path(firmware_py.__file__).parents[1])


class Stage:
    """The bench of a session. ``manages`` is whether a controller that has ended is started anew."""

    def __init__(self, folder: BenchFolder, *, defect: str = "", with_screen: bool = True) -> None:
        self.folder = folder
        self.defect = defect
        self.stall = StallMeter()
        self.evidence = Evidence(now_s(), self.stall.within)
        self.water = Water(folder.wire, lambda: is_lit(folder.pins, HEATER))
        self.evidence.served = self.water.log
        self.instrument = Instrument(folder.port)
        self.controller: Hosted | None = None
        self.mouth: Mouth | None = None
        self.terminal: Terminal | None = None
        self.manages = True
        self.view: dict[str, Any] | None = None
        self.hearing: Callable[[dict[str, Any]], None] = lambda _: None
        self._watcher = Watcher(folder.socket, self._watched)
        self._pedal = os.open(folder.pedal, os.O_RDWR | os.O_NONBLOCK)
        self._start_at_s = 0.0
        self._wants_screen = with_screen
        self._lost: list[Hosted] = []
        folder.begin_machine(0.0)

    # --- the processes ---

    def start_controller(self) -> None:
        from tests.faults.stage.run_controller import run_controller

        folder, seams, defect = self.folder, self.folder.seams, self.defect
        environ = self.environ | ({DEFECT: defect} if defect else {})
        self.controller = fork(
            "controller",
            folder.said,
            lambda: run_controller(folder.config, lambda: lay(seams), defect),
            environ=environ,
            folder=folder.home,
        )

    @property
    def environ(self) -> dict[str, str]:
        """What a process of the bench finds in its environment: a home of its own, in our folder."""
        kept = {name: os.environ[name] for name in ("PATH", "LANG", "VIRTUAL_ENV") if name in os.environ}
        home = str(self.folder.home)
        return kept | {"HOME": home, "TMPDIR": home, "PYTHONPATH": CODE, "PYTHONDONTWRITEBYTECODE": "1"}

    def switchboard(self) -> int | None:
        """The number of the switchboard's process, if there is one."""
        return self._child_called(b"firmware_py.switchboard")

    def _child_called(self, module: bytes) -> int | None:
        if self.controller is None or self.controller.look() is not None:
            return None
        pid = self.controller.pid
        with suppress(OSError):
            told = Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="ascii").split()
            for child in map(int, told):
                if module in Path(f"/proc/{child}/cmdline").read_bytes().split(b"\0"):
                    return child
        return None

    def guardian(self) -> int | None:
        """The number of the guardian's process, if there is one."""
        return self._child_called(b"firmware_py.switchboard.guardian")

    def lamp_is_lit(self) -> bool:
        return is_lit(self.folder.pins, LAMP)

    def shown(self) -> str:
        """What stands on the person's terminal."""
        return self.terminal.text() if self.terminal is not None else ""

    def plate_is_in(self) -> bool:
        """Whether a plate lies in a bath and the screen has had the time to show it."""
        lanes = self.view["lanes"] if self.view is not None else ()
        shows = self.terminal is None or "TRAYS" in self.shown()
        return shows and any(lane["state"] == "running" for lane in lanes)

    def heater_is_on(self) -> bool:
        return is_lit(self.folder.pins, HEATER)

    def press(self, *edges: str) -> None:
        """Move the foot: ``d`` down, ``u`` up."""
        with suppress(BlockingIOError):
            os.write(self._pedal, "".join(edges).encode("ascii"))

    # --- time ---

    def step(self) -> None:
        """Carry everything on by a fiftieth of a second."""
        self.water.advance()
        self.instrument.advance()
        self._manage()
        self._watcher.look()
        if self.mouth is not None:
            for message in self.mouth.hear():
                self.hearing(message)
        if self.terminal is not None:
            self.terminal.look()
        pause(STEP_S)

    def play(self, seconds: float) -> None:
        """Carry everything on for so long."""
        until_s = now_s() + seconds
        while now_s() < until_s:
            self.step()

    def play_until(self, reached: Callable[[], bool], seconds: float) -> bool:
        """Carry everything on until something is so; return whether it came to be within ``seconds``."""
        until_s = now_s() + seconds
        while not reached():
            if now_s() > until_s:
                return False
            self.step()
        return True

    def raise_up(self) -> bool:
        """Start what is wanted; return whether the bench answers."""
        if self.controller is None:
            self.start_controller()
        answered = self.play_until(lambda: self.view is not None, START_S)
        if answered and self._wants_screen and self.terminal is None:
            log = self.evidence.shown
            environ = self.environ | {"EMBERTRAY_CONFIG": str(self.folder.config)}
            environ |= {DEFECT: self.defect} if self.defect else {}
            self.terminal = Terminal(self.folder.socket, self.folder.state, environ, log)
            return self.play_until(lambda: "TRAYS" in self.shown(), START_S)
        return answered

    def wind_up(self) -> Ended | None:
        """End everything in good order; return how the controller ended."""
        self.manages = False
        if self.terminal is not None:
            self.terminal.hang_up()
        ended = None
        if self.controller is not None:
            self.controller.signal(signal.SIGCONT)
            self.controller.signal(signal.SIGTERM)
            self.play_until(lambda: self.controller is None, START_S)
            ended = self.evidence.ended[-1] if self.controller is None else None
        self._drop_mouth()
        self._watcher.close()
        return ended

    def close(self) -> None:
        """Let everything go, whatever state it is in."""
        self.manages = False
        self._watcher.close()
        if self.controller is not None and self.controller.look() is None:
            self.controller.signal(signal.SIGKILL)
            self.controller.wait(5.0)
        self._drop_mouth()
        if self.terminal is not None:
            self.terminal.hang_up()
        self.water.close()
        self.instrument.close()
        os.close(self._pedal)
        self.stall.close()

    def _manage(self) -> None:
        """Be the service manager, who starts an ended controller, and the person, who opens a line."""
        if self.controller is not None and self.controller.look() is not None:
            self._note_end()
            self._start_at_s = now_s() + RESTART_AFTER_S
        if self.manages and self.controller is None and now_s() >= self._start_at_s:
            self.start_controller()
        if self.mouth is not None and self.mouth.process.look() is not None:
            self._drop_mouth()
        if self.manages and self.mouth is None and self.view is not None:
            self.mouth = Mouth(self.folder.socket, self.folder.client_said, self.folder.home)

    def _note_end(self) -> None:
        if self.controller is not None and self.controller.ended is not None:
            self.evidence.ended.append(self.controller.ended)
        self.controller, self.view = None, None
        self._watcher.close()

    def _drop_mouth(self) -> None:
        if self.mouth is not None:
            if self.mouth.process.look() is None:
                self.mouth.process.signal(signal.SIGKILL)
                self.mouth.process.wait(2.0)
            self.mouth.close()
            self.mouth = None

    def _watched(self, message: dict[str, Any]) -> None:
        if message["message"] == "seen":
            self.view = message["bench"]
            self.evidence.seen.append(Seen(now_s(), self.folder.machine_starts, message["bench"]))
