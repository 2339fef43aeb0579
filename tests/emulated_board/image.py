"""Makes what the emulated board boots: kernel, device tree, and a file system with Python and the program.

Everything is from Debian's packages but the few wheels, which pip downloads; kept for the next time.
"""

import compileall
import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
TOOLS = {
    "qemu-system-aarch64": "qemu-system-arm",
    "mmdebstrap": "mmdebstrap",
    "fdtput": "device-tree-compiler",
    "cpio": "cpio",
}
PYTHON = "3.11"
PACKAGES = (
    "python3.11-minimal,libpython3.11-stdlib,busybox-static,libsqlite3-0,libc6,zlib1g,libexpat1,libffi8,"
    "libbz2-1.0,liblzma5,libssl3,libuuid1,libncursesw6,libreadline8,libtinfo6"
)
WHEELS = ("lgpio==0.2.2.0", "gpiozero", "msgspec", "pint", "platformdirs", "astral")
# The revision code of a Raspberry Pi 3 B: without one gpiozero does not know the board.
REVISION = "a02082"
PROJECT = ("firmware_py", "tui", "hardware", "tests/__init__.py", "tests/emulated_board", "tests/service")


@dataclass(frozen=True, slots=True)
class Image:
    """What QEMU is given."""

    kernel: Path
    device_tree: Path
    initrd: Path


def missing_tools() -> list[str]:
    """Return Debian's packages that would have to be installed first."""
    return [package for command, package in TOOLS.items() if shutil.which(command) is None]


def make_image(folder: Path) -> Image:
    """Return the image, made anew but for the parts that do not change: kernel, Python, wheels."""
    folder.mkdir(parents=True, exist_ok=True)
    kernel, tree = _kernel(folder)
    system = _once(folder / "system", _system)
    wheels = _once(folder / "wheels", _wheels)
    root = folder / "root"
    shutil.rmtree(root, ignore_errors=True)
    shutil.copytree(system, root, symlinks=True)
    shutil.copytree(wheels, root / "opt/py")
    for part in PROJECT:
        _copy(ROOT / part, root / "opt/embertray" / part)
    _copy(Path(__file__).with_name("init"), root / "init")
    (root / "init").chmod(0o755)
    for place in ("proc", "sys", "dev", "tmp"):
        (root / place).mkdir(exist_ok=True)
    _compile(root / "opt")
    return Image(kernel, tree, _pack(root, folder / "initrd.gz"))


def _once(folder: Path, make: object) -> Path:
    """Make a folder unless it is there; one that was only begun is not."""
    if not folder.exists():
        begun = folder.with_name(f"{folder.name}.begun")
        shutil.rmtree(begun, ignore_errors=True)
        make(begun)  # type: ignore[operator]
        begun.rename(folder)
    return folder


def _kernel(folder: Path) -> tuple[Path, Path]:
    """Return Debian 13's kernel, whose driver can keep outputs driven, and the board's device tree."""
    kept = _once(folder / "kernel", _unpack_kernel)
    return kept / "vmlinuz", kept / "board.dtb"


def _unpack_kernel(into: Path) -> None:
    whole = into / "whole"
    into.mkdir()
    _debian("trixie", "linux-image-arm64", whole)
    (image,) = (whole / "boot").glob("vmlinuz-*")
    (tree,) = whole.glob("usr/lib/linux-image-*/broadcom/bcm2837-rpi-3-b.dtb")
    shutil.copyfile(image, into / "vmlinuz")
    shutil.copyfile(tree, into / "board.dtb")
    shutil.rmtree(whole)
    _run("fdtput", "-c", str(into / "board.dtb"), "/system")
    _run("fdtput", "-t", "x", str(into / "board.dtb"), "/system", "linux,revision", REVISION)


def _system(into: Path) -> None:
    _debian("bookworm", PACKAGES, into)
    # Device files must not be copied later: /dev/zero has no end.
    for waste in ("dev", "usr/share/doc", "usr/share/man", "usr/share/locale", "var/cache", "var/lib/apt"):
        shutil.rmtree(into / waste, ignore_errors=True)
    _compile(into / "usr/lib/python3.11")


def _debian(suite: str, packages: str, into: Path) -> None:
    _run(
        "mmdebstrap",
        "--quiet",
        "--arch=arm64",
        "--variant=extract",
        f"--include={packages}",
        suite,
        str(into),
    )


def _wheels(into: Path) -> None:
    command = [
        sys.executable,
        "-m",
        "pip",
        "install",
        "--quiet",
        "--only-binary",
        ":all:",
        "--target",
        str(into),
    ]
    command += ["--python-version", PYTHON, "--implementation", "cp", "--no-compile"]
    for platform in (*(f"manylinux_2_{minor}" for minor in range(17, 37)), "manylinux2014"):
        command += ["--platform", f"{platform}_aarch64"]
    _run(*command, *WHEELS)


def _compile(folder: Path) -> None:
    """Compile ahead where this Python's files fit the board's: it would compile at every start."""
    if sys.version_info[:2] == (3, 11):
        compileall.compile_dir(folder, quiet=2, stripdir=str(folder), force=False)


def _pack(root: Path, archive: Path) -> Path:
    names = "\0".join(str(path.relative_to(root)) for path in [*root.rglob("*")])
    packed = subprocess.run(
        ["cpio", "--null", "--create", "--format=newc", "--quiet"],
        cwd=root,
        input=names.encode(),
        stdout=subprocess.PIPE,
        check=True,
    ).stdout
    archive.write_bytes(
        subprocess.run(["gzip", "-1"], input=packed, stdout=subprocess.PIPE, check=True).stdout
    )
    return archive


def _copy(source: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    if source.is_dir():
        shutil.copytree(source, target, ignore=shutil.ignore_patterns("__pycache__"))
    else:
        shutil.copyfile(source, target)


def _run(*words: str) -> None:
    done = subprocess.run(
        words, capture_output=True, text=True, check=False, env=os.environ | {"LC_ALL": "C"}
    )
    if done.returncode:
        raise RuntimeError(f"{words[0]}: {done.stderr.strip()[-500:]}")
