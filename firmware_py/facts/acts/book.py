"""What a person can do to a page of the book that is long turned over."""

from __future__ import annotations

from typing import Annotated

import msgspec

from firmware_py.facts.acts.act import Act
from firmware_py.facts.verdict import Verdict

RunId = Annotated[str, msgspec.Meta(pattern="^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$")]


class JudgePlate(Act, frozen=True, kw_only=True, tag="judge-plate"):
    """Judge a plate of a run that is over (the first one, if not said); the last verdict counts."""

    run: RunId
    verdict: Verdict
    plate: Annotated[str, msgspec.Meta(max_length=200)] = ""


BookAct = JudgePlate
