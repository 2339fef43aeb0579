"""Boots the image and hears what the guest says."""

import json
import select
import subprocess
from pathlib import Path
from typing import Any

from firmware_py.devices.clock import BootClock
from tests.emulated_board.image import Image

CLOCK = BootClock()
BOOT_LIMIT_S = 1200.0
LOOK_EVERY_S = 0.2
# The board's time goes by instructions done, 2 ns each (about half as fast as the real one), not by this
# machine's time: how busy this machine is does not matter, and waiting costs nothing.
TIME = ("-icount", "shift=1,sleep=off")


def boot(image: Image, folder: Path, *, persistence: bool) -> list[dict[str, Any]]:
    """Return all that the guest said, on a kernel that keeps dead outputs driven or does not."""
    console = folder / f"console-{'Y' if persistence else 'N'}.log"
    parameters = (
        f"console=ttyS1,115200 loglevel=3 panic=-1 pinctrl_bcm2835.persist_gpio_outputs={persistence:d}"
    )
    command = ["qemu-system-aarch64", "-M", "raspi3b", "-m", "1G", "-kernel", str(image.kernel)]
    command += ["-dtb", str(image.device_tree), "-initrd", str(image.initrd), "-append", parameters]
    command += ["-serial", "null", "-serial", f"file:{console}", "-display", "none", "-no-reboot"]
    console.unlink(missing_ok=True)
    deadline_s = CLOCK.now_s() + BOOT_LIMIT_S
    with subprocess.Popen([*command, *TIME]) as process:
        # One that does not end is judged all the same, by what it said until then.
        while process.poll() is None and CLOCK.now_s() < deadline_s and not _is_over(_heard(console)):
            select.select([], [], [], LOOK_EVERY_S)
        process.kill()
    return _heard(console)


def _heard(console: Path) -> list[dict[str, Any]]:
    if not console.exists():
        return []
    lines = console.read_text("utf-8", "replace").replace("\r", "").split("\n")[:-1]
    return [json.loads(line.partition("@")[2]) for line in lines if line.lstrip("\x00\ufffd").startswith("@")]


def _is_over(said: list[dict[str, Any]]) -> bool:
    return any(fact["what"] in {"over", "failure"} for fact in said)


def failings(said: list[dict[str, Any]], *, persistence: bool) -> list[str]:
    """Return in words what was not as it must be."""
    wrong = [fact["words"] for fact in said if fact["what"] == "failure"]
    if not any(fact["what"] == "over" for fact in said):
        wrong.append("the guest did not come to its end")
    for fact in said:
        if fact["what"] == "board" and (fact["persistence"] == "Y") is not persistence:
            wrong.append(f"persistence is {fact['persistence']}")
        if fact["what"] == "strike" and (fact["lit_again"] or (fact["dark_s"] or 1e9) > fact["within_s"]):
            wrong.append(f"the lamp stayed lit: {fact}")
        if fact["what"] == "exposure" and abs((fact["seen_s"] or 1e9) - fact["wanted_s"]) > 0.25:
            wrong.append(f"the exposure was not as asked for: {fact}")
    return wrong
