"""What a person says of a run when it is opened: declared once for act, event, outcome and view."""

from __future__ import annotations

from typing import Annotated, Any

import msgspec


class AboutRun(msgspec.Struct, frozen=True, kw_only=True):
    """What is known of a run from its opening on.

    ``box`` is the box or batch its plates come from; ``dark`` plates must have no light at all until they are
    fixed.
    """

    box: Annotated[str, msgspec.Meta(max_length=200)] = ""
    dark: bool = False


def about(one: AboutRun) -> dict[str, Any]:
    """Return the fields of `AboutRun` by name, to pass them on whole."""
    return {name: getattr(one, name) for name in AboutRun.__struct_fields__}
