"""Ask a topic a question as the command line does."""

from __future__ import annotations

import argparse

from tui.commands.reckonings import topic_called
from tui.commands.reckonings.topic import Answer


def reckon(topic: str, *words: str) -> Answer:
    """Return the answer of ``topic`` to the arguments ``words``."""
    found = topic_called(topic)
    parser = argparse.ArgumentParser()
    found.declare(parser)
    return found.reckon(parser.parse_args(words))
