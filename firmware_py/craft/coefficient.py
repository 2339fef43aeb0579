"""The temperature coefficient of development in all the ways print gives it; inside it is ln per kelvin.

Three definitions are in print, and one of them is often quoted without saying which: the ratio of times
for 10 degC (Ferguson & Howard 1905), the same for 7 degC (Ives 1920), K(25)/K(15) (Mees, Jahrbuch für
Photographie 25, 1911, p. 170); Wall gives log10 for one degree (Jahrbuch 24, 1910, p. 44).
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

from firmware_py.craft.refusal import Refused
from firmware_py.craft.units import read_number

LARGEST_LN_PER_K = 0.3  # a ratio of 20 for 10 K; the largest in print are near 3
_WAYS = '"2.36/10K", "2.0/7K", "K25/K15=2.4", "0.037log/K" or "0.086ln/K"'

_PER = r"\s*(?:/|per)\s*"
_DEGREE = r"(K|kelvin|degC|°C|degF|°F|delta_degC|delta_degF)"
_RATIO = re.compile(rf"\s*([^/ ]+){_PER}([0-9.]+)\s*{_DEGREE}\s*")
_LOG = re.compile(rf"\s*([^/ ]+?)\s*(log10|log|ln){_PER}{_DEGREE}\s*")
_MEES = re.compile(r"\s*K\s*\(?25\)?\s*/\s*K\s*\(?15\)?\s*=\s*(\S+)\s*")


def ln_per_K_from_ratio(ratio: float, per_K: float) -> float:
    """Return ln of the rate for one kelvin [1/K] from the ratio of times for ``per_K`` [K].

    Ratio at least 1; the result at most 0.3. Source: definition; for 10 K Ferguson & Howard 1905, for
    7 K H. E. Ives, Airplane Photography, 1920.
    """
    if not (math.isfinite(ratio) and math.isfinite(per_K) and ratio >= 1 and per_K > 0):
        raise Refused(f"a ratio of {ratio:g} for {per_K:g} K is no temperature coefficient", allowed=_WAYS)
    return _checked(math.log(ratio) / per_K)


def ratio_from_ln_per_K(ln_per_K: float, per_K: float = 10.0) -> float:
    """Return the ratio of times for ``per_K`` [K] from ln per kelvin [1/K].

    Refuses a ratio that no one could write down. Source: definition.
    """
    if not abs(ln_per_K * per_K) <= 100:
        raise Refused(f"{ln_per_K:g} per K over {per_K:g} K", where="coefficient", allowed=_WAYS)
    return math.exp(ln_per_K * per_K)


def ln_per_K_from_k25_k15(ratio: float) -> float:
    """Return ln per kelvin [1/K] from the ratio of velocities K(25)/K(15).

    Source: C. E. K. Mees, Jahrbuch für Photographie 25 (1911) p. 170.
    """
    return ln_per_K_from_ratio(ratio, 10.0)


def k25_k15_from_ln_per_K(ln_per_K: float) -> float:
    """Return the ratio of velocities K(25)/K(15) from ln per kelvin [1/K]. Source: Mees 1911, as above."""
    return ratio_from_ln_per_K(ln_per_K, 10.0)


def ln_per_K_from_log10(log10_per_K: float) -> float:
    """Return ln per kelvin [1/K] from log10 of the ratio of times for one degree.

    Source: E. J. Wall, Jahrbuch für Photographie 24 (1910) p. 44.
    """
    return _checked(log10_per_K * math.log(10))


def log10_per_K_from_ln(ln_per_K: float) -> float:
    """Return log10 of the ratio of times for one degree from ln per kelvin [1/K]. Source: Wall 1910."""
    return ln_per_K / math.log(10)


def read_coefficient(text: str, *, where: str) -> float:
    """Read a temperature coefficient and return ln per kelvin [1/K].

    Takes "2.36/10K", "2.0/7K", "1.9 per 10 degC", "K25/K15=2.4", "0.037log/K", "0.086ln/K". A bare number
    is refused: three definitions are in print. Source: the definitions above.
    """
    try:
        return _coefficient(text[:80], where)
    except Refused as refused:
        raise Refused(refused.what, where=where, allowed=refused.allowed or _WAYS) from None


@dataclass(frozen=True, slots=True)
class MeasuredCoefficient:
    """A coefficient measured at one's own bench, [1/K], with its standard uncertainty. Source: own."""

    ln_per_K: float
    uncertainty_per_K: float

    @property
    def doubt_share(self) -> float:
        """Get two standard deviations as a share of it, 1 at the most: 19 times in 20. Source: own."""
        return min(1.0, 2 * self.uncertainty_per_K / self.ln_per_K) if self.ln_per_K > 0 else 1.0


def measured_coefficient(
    appeared: Sequence[tuple[float, float]], *, time_doubt_s: float = 1.0, bath_doubt_K: float = 0.2
) -> MeasuredCoefficient:
    """Return the coefficient from times of first appearance [(time_s, bath_degC), ...], two or more.

    The line of least squares of ln time on temperature; its uncertainty comes from how well the
    appearance is seen (``time_doubt_s`` [s]) and the bath known (``bath_doubt_K`` [K], of one reading
    against the other). Refuses temperatures less than 2 K apart and times that grow with warmth.
    Source: the method is Wall's (Jahrbuch 24, 1910, p. 44); both default doubts: common practice, no source.
    """
    _checked_appearances(appeared)
    centre_degC = sum(bath for _, bath in appeared) / len(appeared)
    spread = sum((bath - centre_degC) ** 2 for _, bath in appeared)
    ln_per_K = -sum((bath - centre_degC) * math.log(time_s) for time_s, bath in appeared) / spread
    if ln_per_K < 0:
        raise Refused("the image appears later in the warmer bath; look for a mix-up", where="appeared")
    variance = sum(
        ((bath - centre_degC) / spread) ** 2 * ((time_doubt_s / time_s) ** 2 + (ln_per_K * bath_doubt_K) ** 2)
        for time_s, bath in appeared
    )
    return MeasuredCoefficient(_checked(ln_per_K), math.sqrt(variance))


def _checked_appearances(appeared: Sequence[tuple[float, float]]) -> None:
    if len(appeared) < 2:
        raise Refused("one appearance tells no coefficient", where="appeared", allowed="two or more")
    if any(not (math.isfinite(time_s) and time_s >= 1) for time_s, _ in appeared):
        raise Refused("an appearance too quick to be seen", where="appeared", allowed="times of 1 s or more")
    baths = [bath for _, bath in appeared]
    if not max(baths) - min(baths) >= 2:
        raise Refused(
            f"the baths are only {max(baths) - min(baths):.3g} K apart",
            where="appeared",
            allowed="2 K or more",
        )


def _coefficient(text: str, where: str) -> float:
    if mees := _MEES.fullmatch(text):
        return ln_per_K_from_k25_k15(read_number(mees[1], where=where))
    if log := _LOG.fullmatch(text):
        per_degree = read_number(log[1], where=where) / _kelvins(log[3])
        return _checked(per_degree) if log[2] == "ln" else ln_per_K_from_log10(per_degree)
    if ratio := _RATIO.fullmatch(text):
        per_K = read_number(ratio[2], where=where) * _kelvins(ratio[3])
        return ln_per_K_from_ratio(read_number(ratio[1], where=where), per_K)
    shown = "".join(sign if sign.isprintable() else "?" for sign in text)[:40]
    raise Refused(f'"{shown}" does not say which temperature coefficient it is', where=where, allowed=_WAYS)


def _kelvins(degree: str) -> float:
    return 5 / 9 if degree.endswith("F") else 1.0


def _checked(ln_per_K: float) -> float:
    if not 0 <= ln_per_K <= LARGEST_LN_PER_K:
        raise Refused(
            f"a coefficient of {ln_per_K:.4g} (ln per kelvin) is not one of development",
            allowed=f"0 to {LARGEST_LN_PER_K}; in print 0.03 to 0.11",
        )
    return ln_per_K
