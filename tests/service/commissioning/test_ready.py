"""Whoever is asked whether he is ready may say so as people do."""

from __future__ import annotations

import pytest

from firmware_py.service.commissioning.person import ready


class Saying:
    """A person who answers with one word after the other."""

    def __init__(self, *words: str) -> None:
        self._words = list(words)
        self.told: list[str] = []

    def say(self, words: str) -> None:
        self.told.append(words)

    async def ask(self, question: str) -> str:
        return self._words.pop(0)


@pytest.mark.parametrize(("said", "is_ready"), [("ready", True), ("y", True), ("YES", True), ("skip", False)])
async def test_yes_and_y_stand_for_ready(said, is_ready):
    person = Saying(said)
    assert await ready(person, "Is the ice at hand?") is is_ready
    assert person.told == []


async def test_another_word_is_asked_again():
    person = Saying("soon", "y")
    assert await ready(person, "Is the ice at hand?")
    assert person.told == ["Please type one of these: ready, skip."]
