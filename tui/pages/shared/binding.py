"""Turns the key table into Textual's bindings."""

from __future__ import annotations

from collections.abc import Iterable

from textual.binding import Binding, BindingType

from tui.pages.shared.key_use import KeyUse


def bindings(uses: Iterable[KeyUse]) -> list[BindingType]:
    """Return what a part of the key table binds."""
    return [
        Binding(key, f"{use.act}({key})" if use.numbered else use.act, use.label, show=False)
        for use in uses
        for key in use.keys
    ]
