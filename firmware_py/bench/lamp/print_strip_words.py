"""What a person does with the card over a strip, patch by patch, in words."""

from __future__ import annotations

from firmware_py.craft.strips import Method
from firmware_py.journal.print_sheet import Sheet


def strip_advice(strip: Sheet) -> str:
    """Return what to cover or open before the next exposure of a strip; nothing once it is whole."""
    done, patches = sum(1 for slot in strip.slots() if slot.complete), len(strip.patches_s)
    if done >= patches or strip.owed() is not None:
        return ""
    return _advice(strip.method, done)


def strip_advice_after(strip: Sheet) -> str:
    """Return what to cover or open once the exposure that goes on is over; nothing after the last one."""
    done = 1 + sum(1 for slot in strip.slots() if slot.complete)
    return _advice(strip.method, done) if done < len(strip.patches_s) else ""


def _advice(method: Method, done: int) -> str:
    if method == "covering":
        return "leave all of it open" if done == 0 else f"cover {_patches(1, done)}"
    return "open patch 1 only" if done == 0 else f"open {_patches(1, done + 1)}"


def _patches(first: int, last: int) -> str:
    return f"patch {first}" if first == last else f"patches {first} to {last}"
