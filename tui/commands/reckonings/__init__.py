"""One file for each topic of ``embertray reckon``; nothing is imported until its topic is asked for."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from types import MappingProxyType

from tui.commands.reckonings.topic import Topic

# topic -> what it reckons, for the help; the module of that name holds ``TOPIC``
TOPICS: Mapping[str, str] = MappingProxyType(
    {
        "temperature": "development time at another temperature, and your own temperature coefficient",
        "appearance": "development time from the first appearance of the image",
        "contrast": "gamma against development time, characteristic curves, advice after a plate",
        "stops": "f-numbers, the Uniform System and other old systems, and the stops between them",
        "speed": "plate speeds in the old and the new scales",
        "extension": "exposure factor of a long bellows, and reciprocity",
        "tempering": "hot and cold water for a temperature, and how a tray cools",
        "fixing": "fixing time from clearing time, and the state of the fixer",
        "washing": "what is left after changes of water or a flow",
        "exhaustion": "what a bath has done, how old it is, and the time it then needs",
        "salts": "one salt for another, by the mole",
        "strip": "test strips in stops",
        "paper": "exposure range and grade of a paper, burns, and the negative that suits it",
        "lamp": "lag of a lamp, distance, and on-times",
        "safelight": "safe time of a safelight",
    }
)


def topic_called(name: str) -> Topic:
    """Return the topic called ``name``, importing only its own room."""
    found: Topic = import_module(f"tui.commands.reckonings.{name}").TOPIC
    return found
