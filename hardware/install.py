"""Lay units, rules and boot settings on a board, or take them off again; standard library only.

``sudo python3 hardware/install.py [--off] [--root DIR]``. Twice is the same as once. The bench's own settings
and its journal (/etc/embertray, /var/lib/embertray) are never touched when taking off.
"""

from __future__ import annotations

import argparse
import shutil
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent
FILES = {
    "systemd/embertray.service": "etc/systemd/system/embertray.service",
    "systemd/embertray-screen.service": "etc/systemd/system/embertray-screen.service",
    "systemd/hardware-watchdog.conf": "etc/systemd/system.conf.d/embertray.conf",
    "sysusers/embertray.conf": "etc/sysusers.d/embertray.conf",
    "udev/70-embertray.rules": "etc/udev/rules.d/70-embertray.rules",
    "console/console.red": "opt/embertray/share/console.red",
    "console/vtrgb": "opt/embertray/share/vtrgb",
    "../docs/hardware.md": "opt/embertray/share/hardware.md",
}
BENCH = ("bench.toml", "etc/embertray/bench.toml")
BOOT_FOLDERS = ("boot/firmware", "boot")
BEGIN, END = "# embertray: begin\n", "# embertray: end\n"
KEPT = "cmdline.before-embertray"

ON = (
    ("systemd-sysusers",),
    ("udevadm", "control", "--reload"),
    ("systemctl", "daemon-reload"),
    ("systemctl", "enable", "embertray.service", "embertray-screen.service"),
)
OFF_FIRST = (("systemctl", "disable", "--now", "embertray-screen.service", "embertray.service"),)
OFF_LAST = (("systemctl", "daemon-reload"), ("udevadm", "control", "--reload"))


def main(arguments: list[str] | None = None) -> int:
    """Install, or take off; 1 with one line where the board is not one that can be set up."""
    parser = argparse.ArgumentParser(prog="install.py", description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--off", action="store_true", help="take everything off again")
    parser.add_argument(
        "--root", type=Path, default=Path("/"), help="another root folder, to look at it first"
    )
    args = parser.parse_args(arguments)
    live = args.root.resolve() == Path("/")
    try:
        if args.off:
            _run(OFF_FIRST, live=live)
            _take_off(args.root)
            _run(OFF_LAST, live=live)
        else:
            _lay_on(args.root)
            _run(ON, live=live)
    except (OSError, subprocess.CalledProcessError) as error:
        print(f"install: {error}", file=sys.stderr)
        return 1
    print("taken off; restart the board" if args.off else "installed; restart the board")
    return 0


def _lay_on(root: Path) -> None:
    for source, target in FILES.items():
        _copy(HERE / source, root / target)
    if not (root / BENCH[1]).exists():
        _copy(HERE / BENCH[0], root / BENCH[1])
    boot = _boot_folder(root)
    if boot is None:
        print("no config.txt here: set pulls, watchdog and console colours as this board's own manual says")
        return
    config, cmdline = boot / "config.txt", boot / "cmdline.txt"
    _write(config, f"{_without_block(config.read_text())}{BEGIN}{_settings()}{END}")
    if not (boot / KEPT).exists():
        _copy(cmdline, boot / KEPT)
    words = cmdline.read_text().split()
    ours = (HERE / "boot/cmdline.txt").read_text().split()
    _write(cmdline, " ".join([*words, *(word for word in ours if word not in words)]) + "\n")


def _take_off(root: Path) -> None:
    for target in FILES.values():
        (root / target).unlink(missing_ok=True)
    boot = _boot_folder(root)
    if boot is None:
        return
    config, cmdline, kept = boot / "config.txt", boot / "cmdline.txt", boot / KEPT
    _write(config, _without_block(config.read_text()))
    if kept.exists():
        added = set((HERE / "boot/cmdline.txt").read_text().split()) - set(kept.read_text().split())
        _write(cmdline, " ".join(word for word in cmdline.read_text().split() if word not in added) + "\n")
        kept.unlink()


def _boot_folder(root: Path) -> Path | None:
    folders = (root / folder for folder in BOOT_FOLDERS)
    return next(
        (each for each in folders if (each / "config.txt").exists() and (each / "cmdline.txt").exists()), None
    )


def _settings() -> str:
    return (HERE / "boot/config.txt").read_text()


def _without_block(text: str) -> str:
    before, begin, rest = text.partition(BEGIN)
    if not begin:
        return text if text.endswith("\n") or not text else f"{text}\n"
    return before + rest.partition(END)[2]


def _copy(source: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(source, target)


def _write(path: Path, text: str) -> None:
    """Replace a file at once: a board with half a cmdline.txt does not boot."""
    part = path.with_name(f"{path.name}.part")
    part.write_text(text)
    part.replace(path)


def _run(commands: tuple[tuple[str, ...], ...], *, live: bool) -> None:
    for command in commands if live else ():
        subprocess.run(command, check=True)


if __name__ == "__main__":
    sys.exit(main())
