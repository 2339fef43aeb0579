"""``embertray reckon exhaustion``: what a bath has done, how old it is, and the time it then needs."""

from __future__ import annotations

import argparse
from datetime import datetime

from firmware_py.craft.baths import BathState, bath_state
from firmware_py.craft.exhaustion import lengthened_s, plates_left
from firmware_py.craft.refusal import Refused
from firmware_py.craft.saying import say_time
from firmware_py.craft.units import read_area_cm2, read_number, read_time_s
from tui.commands.reckonings.own_unit import bare_ml
from tui.commands.reckonings.topic import Answer, Json, Topic

_WORDS = {
    "good": "the bath is good",
    "nearly done": "the bath is nearly done: mix the next",
    "used up": "the bath is used up: trust no plate to it",
    "too old": "the bath is too old: trust no plate to it",
    "not known": "nobody says how much this bath does or how long it keeps",
}


def _declare(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--volume", metavar="VOLUME", help="the bath")
    parser.add_argument("--plate", metavar="AREA", help="one plate, such as '4 3/4 x 6 1/2 in'")
    parser.add_argument("--plates", metavar="N", help="plates done so far")
    parser.add_argument("--capacity", metavar="AREA/VOLUME", help="what it does, such as '30 sq in/100 ml'")
    parser.add_argument("--made", metavar="WHEN", help="date, or date and time, it was mixed (ISO 8601)")
    parser.add_argument("--now", metavar="WHEN", help="date, or date and time, it is to be used")
    parser.add_argument("--keeps", metavar="TIME", help="how long it keeps, such as '45 min' or '8 days'")
    parser.add_argument("--time", metavar="TIME", help="development time in the fresh bath")
    parser.add_argument("--longer", metavar="PERCENT", help="the time grows by so many per cent ...")
    parser.add_argument("--every", metavar="AREA/VOLUME", help="... for every so much plate")


def _reckon(args: argparse.Namespace) -> Answer:
    if not (args.volume and args.plate):
        raise Refused(
            "no bath or no plate", where="reckon exhaustion", allowed="--volume VOLUME --plate AREA, and more"
        )
    volume_ml = bare_ml(args.volume, where="--volume")
    plate_cm2 = read_area_cm2(args.plate, where="--plate")
    done_cm2 = plate_cm2 * _number(args.plates, "--plates")
    state = _state(args, volume_ml, done_cm2)
    values: dict[str, Json] = {"state": state.state, "done_cm2": done_cm2}
    lines = [_WORDS[state.state]]
    _say_area(state, plate_cm2, values, lines)
    _say_age(state, values, lines)
    _say_time(args, volume_ml, done_cm2, values, lines)
    return Answer(values, tuple(lines))


def _state(args: argparse.Namespace, volume_ml: float, done_cm2: float) -> BathState:
    if bool(args.made) != bool(args.now):
        raise Refused("--made and --now go together", where="reckon exhaustion", allowed="both or neither")
    if args.keeps and not args.made:
        raise Refused("--keeps needs --made and --now", where="reckon exhaustion")
    made = _moment(args.made or "2000-01-01", "--made")
    now = _moment(args.now or "2000-01-01", "--now")
    return bath_state(
        volume_ml=volume_ml,
        done_cm2=done_cm2,
        cm2_per_l=_per_litre(args.capacity, "--capacity") if args.capacity else None,
        made=made,
        now=now,
        keeps_s=read_time_s(args.keeps, where="--keeps") if args.keeps else None,
    )


def _say_area(state: BathState, plate_cm2: float, values: dict[str, Json], lines: list[str]) -> None:
    if state.left_cm2 is None or state.share_done is None:
        return
    left = plates_left(state.left_cm2, plate_cm2)
    values.update(share_done=state.share_done, left_cm2=state.left_cm2, plates_left=left)
    room = f"room for {left} more of these plates" if left else "no room for another of these plates"
    lines.append(f"  {state.share_done * 100:.0f} % of its area done; {room}")


def _say_age(state: BathState, values: dict[str, Json], lines: list[str]) -> None:
    if state.left_s is None:
        return
    values.update(age_s=state.age_s, left_s=state.left_s)
    words = (
        f"keeps another {_span(state.left_s)}" if state.left_s >= 0 else f"too old by {_span(-state.left_s)}"
    )
    lines.append(f"  {_span(state.age_s)} old; {words}")


def _say_time(
    args: argparse.Namespace, volume_ml: float, done_cm2: float, values: dict[str, Json], lines: list[str]
) -> None:
    if not args.time:
        return
    if not (args.longer and args.every):
        raise Refused(
            "no rule for how the time grows", where="--time", allowed="--longer PERCENT --every AREA/VOLUME"
        )
    time_s = lengthened_s(
        read_time_s(args.time, where="--time"),
        done_cm2,
        volume_ml,
        longer_percent=_number(args.longer.rstrip("% "), "--longer"),
        every_cm2_per_l=_per_litre(args.every, "--every"),
    )
    values["time_s"] = time_s
    lines.append(f"  develop for {say_time(time_s)}")


def _per_litre(text: str, where: str) -> float:
    area, slash, volume = text.partition("/")
    if not slash:
        raise Refused(
            f'"{text[:40]}" is no area for a volume', where=where, allowed="such as '30 sq in/100 ml'"
        )
    each = volume if any(map(str.isdigit, volume)) else f"1 {volume}"
    volume_ml = bare_ml(each, where=where)
    if volume_ml <= 0:
        raise Refused(f'"{text[:40]}" is for no volume', where=where, allowed="such as '30 sq in/100 ml'")
    return read_area_cm2(area, where=where) / volume_ml * 1000


def _moment(text: str, where: str) -> datetime:
    try:
        return datetime.fromisoformat(text)
    except ValueError as error:
        raise Refused(
            f'"{text[:40]}" is no date', where=where, allowed="such as 2026-05-01 or 2026-05-01T18:00+01:00"
        ) from error


def _number(text: str | None, where: str) -> float:
    return 0.0 if text is None else read_number(text, where=where, low=0, high=1e6)


def _span(time_s: float) -> str:
    return f"{time_s / 86_400:.3g} days" if time_s >= 2 * 86_400 else say_time(time_s)


TOPIC = Topic(_declare, _reckon)
