"""Printing quantities back to a person, in the unit the person chose."""

from __future__ import annotations

from types import MappingProxyType

from firmware_py.craft.refusal import Refused
from firmware_py.craft.unit_words import Kind, Unit, unit_written

_SCALES = MappingProxyType({"degC": (1.0, 0.0, "°C"), "degF": (1.8, 32.0, "°F"), "K": (1.0, 273.15, "K")})


def say_time(time_s: float, *, decimals: int | None = None) -> str:
    """Say a time [s] as a person would: "4.5 s", "3 min 45 s", "1 h 5 min".

    Below a minute to three figures, above it to whole seconds, unless ``decimals`` of a second are
    asked for. Source: own.
    """
    if decimals is None:
        decimals = 0 if abs(time_s) >= 59.95 else max(0, 2 - len(str(int(abs(time_s)))) + 1) if time_s else 0
    tick = 10**decimals
    ticks = round(abs(time_s) * tick)
    sign = "-" if time_s < 0 and ticks else ""
    minutes, rest = divmod(ticks, 60 * tick)
    hours, minutes = divmod(minutes, 60)
    seconds = _trimmed(rest / tick, decimals)
    parts = [f"{hours} h"] * bool(hours) + [f"{minutes} min"] * bool(minutes)
    parts += [f"{seconds} s"] * bool(rest or not parts)
    return sign + " ".join(parts)


def say_temperature(bath_degC: float, unit: str = "degC", *, decimals: int = 1) -> str:
    """Say a temperature [degC] in "degC", "degF" or "K": "20 °C", "68 °F", "293.2 K".

    Refuses another scale. Source: definitions of the scales.
    """
    if unit not in _SCALES:
        raise Refused(f'the scale "{unit}" is not known', where="scale", allowed="degC, degF, K")
    size, zero, sign = _SCALES[unit]
    return f"{_trimmed(bath_degC * size + zero, decimals)} {sign}"


def say_mass(mass_g: float, unit: str = "g", *, figures: int = 4) -> str:
    """Say a mass [g] in a mass unit, to ``figures`` figures: "43.34 g", "30 gr". Source: own."""
    return _said(mass_g, unit, "mass", figures)


def say_volume(volume_ml: float, unit: str = "ml", *, figures: int = 4) -> str:
    """Say a volume [ml] in a volume unit, to ``figures`` figures: "1 imperial pint". Source: own."""
    return _said(volume_ml, unit, "volume", figures)


def _said(amount: float, word: str, kind: Kind, figures: int) -> str:
    unit = unit_written(word)
    if not isinstance(unit, Unit) or unit.kind != kind:
        raise Refused(f'"{word}" is not one unit of {kind}', where="unit", allowed=f"a unit of {kind}")
    return f"{_to_figures(amount / unit.size, figures)} {word}"


def _to_figures(value: float, figures: int) -> str:
    """Return ``value`` to so many figures, never with an exponent, whole numbers whole."""
    if value == 0:
        return "0"
    exponent = int(f"{value:.{figures - 1}e}".partition("e")[2])
    places = max(0, figures - 1 - exponent)
    return _trimmed(value, places)


def _trimmed(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in {"-0", ""} else text
