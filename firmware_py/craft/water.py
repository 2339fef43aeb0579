"""What water weighs and how much heat it takes, as far as a tray needs to know."""

from __future__ import annotations

from firmware_py.craft.refusal import Refused

# J/(g·K), for liquid water between 10 and 60 degC; it varies by 0.4 % (checked against iapws)
WATER_J_PER_G_K = 4.184
# J/g, melting at 0 degC, and J/(g·K), ice from -20 to 0 degC (IAPWS-06, by iapws)
MELTING_J_PER_G = 333.4
ICE_J_PER_G_K = 2.03
COLDEST_WATER_DEGC, HOTTEST_WATER_DEGC = 0.0, 100.0

# Kell's coefficients, as Jones & Harris 1992 print them in eq. (1), but for the last one, which the on-line
# copy of that paper gives as 16.897850e-3: with that, water at 20 degC would be wrong by 0.27 kg/m3.
_ABOVE = (999.83952, 16.945176, -7.9870401e-3, -46.170461e-6, 105.56302e-9, -280.54253e-12)
_BELOW = 16.879850e-3


def water_density_g_per_ml(bath_degC: float) -> float:
    """Return the density [g/ml] of water at ``bath_degC`` [degC] and ordinary pressure.

    Valid from 0 to 100 degC, within 0.00002 g/ml; raises `Refused` outside.
    Source: G. S. Kell, J. Chem. Eng. Data 20 (1975) 97, as printed in F. E. Jones & G. L. Harris,
    J. Res. NIST 97 (1992) 335, eq. (1) (seen).
    """
    t = checked_water_degC(bath_degC)
    above = sum(coefficient * t**power for power, coefficient in enumerate(_ABOVE))
    return above / (1 + _BELOW * t) / 1000


def water_grams(volume_ml: float, bath_degC: float) -> float:
    """Return what ``volume_ml`` [ml] of water weigh [g] at ``bath_degC`` [degC].

    Valid for 0 ml and more, from 0 to 100 degC; raises `Refused` outside. Source: as the density.
    """
    if not 0 <= volume_ml < float("inf"):
        raise Refused(f"{volume_ml:g} ml of water", where="volume", allowed="0 ml or more")
    return volume_ml * water_density_g_per_ml(bath_degC)


def checked_water_degC(bath_degC: float, *, where: str = "water") -> float:
    """Return ``bath_degC`` [degC] if water is liquid there; raise `Refused` if not. Source: own."""
    if COLDEST_WATER_DEGC <= bath_degC <= HOTTEST_WATER_DEGC:
        return bath_degC
    raise Refused(f"water at {bath_degC:g} degC", where=where, allowed="0 to 100 degC")
