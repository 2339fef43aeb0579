"""Which dependency has a wheel for which board: asks pip, and prints the manual's table.

``python -m tests.hardware.wheels [--json]``. pip resolves each requirement with all that it needs, wheels
only, for 64-bit ARM, and downloads nothing but what it must read; 1 if something required has no wheel.
"""

import json
import re
import subprocess
import sys
import tomllib
from dataclasses import dataclass
from pathlib import Path

PROJECT = Path(__file__).parents[2] / "pyproject.toml"
# glibc 2.36 and 2.41: Debian 12 and 13, which the boards' own 64-bit systems follow.
GLIBC = {"3.11": 36, "3.13": 41}
EXTRAS = ("board", "sheets")
# Debian and the boards' own system have these built; pip takes them in a venv that sees the system's.
FROM_THE_SYSTEM = {"evdev"}
NO_WHEEL = ("No matching distribution", "ResolutionImpossible")


@dataclass(frozen=True, slots=True)
class Row:
    """A package, who asks for it ("" for the program itself), and its version on each Python, if any."""

    package: str
    asked_by: str
    versions: dict[str, str | None]


def requirements() -> dict[str, list[str]]:
    """Return the requirements as pyproject.toml has them, by the extra that asks for them ("" for none)."""
    project = tomllib.loads(PROJECT.read_text("utf-8"))["project"]
    optional = project["optional-dependencies"]
    return {"": project["dependencies"], **{extra: optional[extra] for extra in EXTRAS if extra in optional}}


def ask(requirement: str, python: str) -> dict[str, str]:
    """Return version by package of what pip would install for the requirement; nothing if it has no wheel."""
    command = [sys.executable, "-m", "pip", "install", "--dry-run", "--ignore-installed", "--quiet"]
    command += ["--only-binary", ":all:", "--target", "unused", "--report", "-"]
    command += ["--python-version", python, "--implementation", "cp"]
    for platform in (*(f"manylinux_2_{n}" for n in range(17, GLIBC[python] + 1)), "manylinux2014"):
        command += ["--platform", f"{platform}_aarch64"]
    done = subprocess.run([*command, requirement], capture_output=True, text=True, check=False)
    if done.returncode == 0:
        found = [item["metadata"] for item in json.loads(done.stdout)["install"]]
        return {package_name(each["name"]): each["version"] for each in found}
    if any(words in done.stderr for words in NO_WHEEL):
        return {}
    raise SystemExit(f"pip could not answer for {requirement}: {done.stderr.strip()[-300:]}")


def package_name(text: str) -> str:
    """Return the normalised name that a requirement begins with."""
    return re.sub(r"[-_.]+", "-", re.split(r"[<>=!~;\[ ]", text.strip())[0]).lower()


def is_wanted(requirement: str, python: str) -> bool:
    """Return whether the requirement's marker (only ``python_version < 'X'``) asks for it on that Python."""
    limit = re.search(r"python_version\s*<\s*['\"]3\.(\d+)['\"]", requirement)
    return limit is None or int(python.split(".")[1]) < int(limit[1])


def rows() -> list[Row]:
    """Return a row for each requirement, followed by what it brings with it."""
    found: dict[str, Row] = {}
    direct = {package_name(each): extra for extra, wanted in requirements().items() for each in wanted}
    for extra, wanted in requirements().items():
        for requirement in wanted:
            bare, own = requirement.partition(";")[0], package_name(requirement)
            for python in GLIBC:
                if not is_wanted(requirement, python):
                    found.setdefault(own, Row(own, extra, {})).versions[python] = "from the system"
                    continue
                none_at_all: dict[str, str | None] = {
                    own: "from the system" if own in FROM_THE_SYSTEM else None
                }
                for package, version in (ask(bare, python) or none_at_all).items():
                    asked_by = direct.get(package, f"by {own}")
                    found.setdefault(package, Row(package, asked_by, {})).versions.setdefault(python, version)
    return list(found.values())


def main(arguments: list[str]) -> int:
    """Print the table; return 1 if something required has no wheel."""
    table = rows()
    if "--json" in arguments:
        print(
            json.dumps(
                [{"package": r.package, "asked_by": r.asked_by, **r.versions} for r in table], indent=2
            )
        )
    else:
        print("| package | asked for | " + " | ".join(f"Python {python}" for python in GLIBC) + " |")
        print("|---|---|" + "---|" * len(GLIBC))
        for row in table:
            cells = [row.versions.get(python, "") or "**no wheel**" for python in GLIBC]
            print(f"| {row.package} | {row.asked_by} | {' | '.join(cells)} |")
    missing = [row.package for row in table if None in row.versions.values()]
    if missing:
        print(f"no wheel: {', '.join(missing)}", file=sys.stderr)
    return 1 if missing else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
