"""``embertray reckon TOPIC``: reads the arguments of one topic, loading only that topic's room."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Mapping, Sequence

from tui.commands.reckonings import TOPICS, topic_called
from tui.commands.reckonings.topic import Answer, Json


def add_reckon(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Declare ``reckon`` with a parser for each topic, which declares itself when it is asked for."""
    parser = commands.add_parser(
        "reckon", help="the craft's calculators", description="The craft's calculators, one a topic."
    )
    topics = parser.add_subparsers(
        title="topics", metavar="TOPIC", dest="topic", required=True, parser_class=_TopicParser
    )
    for name, does in TOPICS.items():
        topics.add_parser(name, help=does, description=f"{does[0].upper()}{does[1:]}.", allow_abbrev=False)


def run_reckon(args: argparse.Namespace) -> int:
    """Reckon what was asked and print it. Raises `Refused` for what can not be reckoned."""
    answer = topic_called(args.topic).reckon(args)
    sys.stdout.write(printed(answer, as_json=args.json))
    return 0


def printed(answer: Answer, *, as_json: bool) -> str:
    """Return the answer as it is printed: lines for a person, or one JSON object."""
    if as_json:
        return json.dumps(_plain(answer.values), ensure_ascii=False, allow_nan=False) + "\n"
    return "".join(f"{line}\n" for line in answer.lines)


class _TopicParser(argparse.ArgumentParser):
    """A parser that imports and declares its topic only when it comes to parse."""

    _declared = False

    def parse_known_args(  # type: ignore[override] # the stubs also allow other namespaces; argparse uses one
        self, args: Sequence[str] | None = None, namespace: argparse.Namespace | None = None
    ) -> tuple[argparse.Namespace, list[str]]:
        if not self._declared:
            self._declared = True
            topic_called(self.prog.split()[-1]).declare(self)
            self.add_argument(
                "--json", action="store_true", help="print one JSON object; keys carry their unit"
            )
        return super().parse_known_args(args, namespace)


def _plain(value: Json) -> Json:
    """Return the value with floats to ten figures: what is beyond is the machine's, not the craft's."""
    if isinstance(value, float):
        return float(f"{value:.10g}")
    if isinstance(value, Mapping):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [_plain(inner) for inner in value]
    return value
