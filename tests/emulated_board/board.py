"""Boots the image and hears what the guest says."""

import contextlib
import json
import subprocess
from pathlib import Path
from typing import Any

from tests.emulated_board.image import Image

BOOT_LIMIT_S = 600.0


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
    # One that does not end is judged all the same, by what it said until then.
    with contextlib.suppress(subprocess.TimeoutExpired):
        subprocess.run(command, timeout=BOOT_LIMIT_S, check=True, capture_output=True)
    lines = console.read_text("utf-8", "replace").splitlines()
    return [json.loads(line[1:]) for line in lines if line.startswith("@")]


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
