"""Where a bench has its settings, its journal and its socket."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from firmware_py.settings import Settings


def settings_path() -> Path | None:
    """Return the bench.toml that counts, or None where no bench is configured.

    A file named by ``EMBERTRAY_CONFIG`` must exist; otherwise the user's config folder, then /etc.
    """
    named = os.environ.get("EMBERTRAY_CONFIG")
    if named:
        return Path(named)
    import platformdirs

    places = [platformdirs.user_config_path("embertray"), Path("/etc/embertray")]
    return next((p / "bench.toml" for p in places if (p / "bench.toml").exists()), None)


def state_folder(settings: Settings | None) -> Path:
    """Return the folder in which a bench keeps its journal; a rehearsal has one of its own."""
    named = os.environ.get("EMBERTRAY_STATE")
    if named:
        return Path(named)
    if settings is not None and settings.bench.state is not None:
        return Path(settings.bench.state)
    import platformdirs

    state = platformdirs.user_state_path("embertray")
    return state / "bench" if settings is not None else state / "rehearsal"


def journal_path(state: Path) -> Path:
    """Return the journal in a bench's state folder."""
    return state / "journal.db"


def socket_path(settings: Settings | None, state: Path) -> Path:
    """Return where the controller listens: as set, or in the state folder."""
    if settings is not None and settings.bench.socket is not None:
        return Path(settings.bench.socket)
    return state / "bench.sock"
