"""An instrument at the other end of a pseudo-terminal: it talks, answers, falls silent, and is unplugged."""

import contextlib
import os
import select
import threading
import tty


class Instrument:
    """A port at ``path`` and a thread that plays the instrument behind it, until it is unplugged.

    ``answer`` gives the bytes that answer a line; ``stream`` is sent again and again, whole or in bites.
    """

    def __init__(self, path, *, answer=lambda line: b"", stream=lambda: b""):
        self.path = path
        self.answer = answer
        self.stream = stream
        self.asked: list[bytes] = []
        self._thread = None
        self.plug_in()

    def plug_in(self):
        self._master, slave = os.openpty()
        tty.setraw(slave)
        os.set_blocking(self._master, False)
        self.path.unlink(missing_ok=True)
        self.path.symlink_to(os.ttyname(slave))
        os.close(slave)
        self._end, self._ended = os.pipe()
        self._thread = threading.Thread(target=self._play, daemon=True)
        self._thread.start()

    def unplug(self):
        if self._thread is None:
            return
        os.write(self._ended, b".")
        self._thread.join()
        self._thread = None
        for fd in (self._master, self._end, self._ended):
            os.close(fd)
        self.path.unlink()

    def send(self, data):
        with contextlib.suppress(BlockingIOError, OSError):  # nobody reads: it is lost, as on a wire
            os.write(self._master, data)

    def _play(self):
        heard = b""
        while not select.select([self._end], [], [], 0.002)[0]:
            self.send(self.stream())
            with contextlib.suppress(BlockingIOError, OSError):  # nobody has the port open just now
                heard += os.read(self._master, 4096)
            *lines, heard = heard.split(b"\n")
            for line in lines:
                self.asked.append(line)
                self.send(self.answer(line))


NAME = b"Cold Shore Works,T-2,0042,1.1\r\n"


def polite(degrees):
    """Return what answers as an instrument of IEEE 488.2 does, with ``degrees`` for its temperature."""
    answers = {b"*IDN?": NAME, b"MEAS:TEMP?": degrees}
    return lambda line: answers.get(line.strip(), b"")
