"""Where the bench of this user is, and that a controller runs for it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from firmware_py.service.starting import answers, start_controller, wait_until_it_listens
from firmware_py.settings import read_settings
from firmware_py.settings.paths import settings_path, socket_path, state_folder
from firmware_py.settings.screen import ScreenSection

# A simulated bench that nobody looks at any more need not go on for ever.
REHEARSAL_ALONE_S = 600


@dataclass(frozen=True, slots=True)
class BenchPlace:
    """Where the bench is: settings (None: the simulated one), folder, socket; and the rule of its screens.

    ``trouble`` is what is wrong with the settings, where the bench runs all the same.
    """

    config: Path | None
    state: Path
    socket: Path
    screen: ScreenSection
    trouble: str = ""


def bench_place(config: Path | None = None) -> BenchPlace:
    """Return where the configured bench is, or the simulated one. Raises Refused for wrong settings."""
    path = config or settings_path()
    settings = read_settings(path) if path is not None else None
    state = state_folder(settings)
    screen = settings.screen if settings is not None else ScreenSection()
    return BenchPlace(path, state, socket_path(settings, state), screen)


def see_that_it_runs(place: BenchPlace) -> None:
    """Start a controller where none answers; return once one does. Raises Refused with its last words."""
    if answers(place.socket):
        return
    rehearsal = ["--rehearsal", "--alone", str(REHEARSAL_ALONE_S)]
    named = rehearsal if place.config is None else ["--config", str(place.config)]
    where = ["--state", str(place.state), "--socket", str(place.socket)]
    process = start_controller([*named, *where], place.state)
    wait_until_it_listens(process, place.socket, place.state)
