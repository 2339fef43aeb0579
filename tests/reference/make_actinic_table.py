"""Make firmware_py/craft/actinic_table.py: clear-sky light as three kinds of plate see it.

Run by hand in the project's folder, ``python -m tests.reference.make_actinic_table``, and put what it prints
in that file. A test makes the table again and compares (test_actinic_table.py).
"""

from __future__ import annotations

import sys

import numpy as np
import pvlib

# Where each kind of plate sees, all of it alike [nm]: bromide plates to 500, orthochromatic ones to 590;
# 320 is about where a lens of ordinary glass ends. Common practice, no source.
WINDOWS_NM = {"blue": (320.0, 500.0), "ortho": (320.0, 590.0), "pan": (320.0, 680.0)}
ALTITUDES_DEG = (*range(1, 21), *range(25, 95, 5))

# A clear day over open country at sea level. Turbidity 0.1 at 500 nm is clean air; the rest are mid-latitude
# values from memory, on which this light hardly depends (a test says how little).
AIR = {
    "surface_pressure": 101325.0,
    "precipitable_water": 1.42,
    "ozone": 0.34,
    "aerosol_turbidity_500nm": 0.1,
    "ground_albedo": 0.2,
    "dayofyear": 94,
}

HEAD = '''"""Clear-sky light by the sun's altitude, as three kinds of plate see it; made by a script.

Rows of (altitude of the sun [deg], light coming from the sun itself, on a surface turned to it, light of the
rest of the sky, on a level surface), both in parts of the sunlight above the air that the plate could see.

Source: the Bird simple spectral model (Bird & Riordan 1984, doi 10.2172/5986936) as computed by
pvlib.spectrum.spectrl2, weighted evenly over 320-500 nm (blue-sensitive), 320-590 nm (orthochromatic) and
320-680 nm (panchromatic); sea level, turbidity 0.1 at 500 nm, ozone 0.34 atm-cm, water 1.42 cm, ground
albedo 0.2. The glow around the sun is counted with the sun, as Hay & Davies split it.
Script: tests/reference/make_actinic_table.py.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

GROUND_ALBEDO = 0.2

TABLE: Mapping[str, tuple[tuple[float, float, float], ...]] = MappingProxyType(
    {
'''


def spectrum(altitude_deg: float, surface_tilt: float = 0.0, **air: float) -> dict[str, np.ndarray]:
    """Return the model's spectra for a surface turned to the sun's quarter, level unless tilted."""
    zenith = 90.0 - altitude_deg
    facing = np.array([abs(zenith - surface_tilt)])
    air_mass = pvlib.atmosphere.get_relative_airmass(zenith, "kastenyoung1989")
    found: dict[str, np.ndarray] = pvlib.spectrum.spectrl2(
        apparent_zenith=np.array([zenith]),
        aoi=facing,
        surface_tilt=np.array([surface_tilt]),
        relative_airmass=np.array([air_mass]),
        **{**AIR, **air},
    )
    return found


def seen(spectrum_of_light: np.ndarray, wavelength_nm: np.ndarray, window_nm: tuple[float, float]) -> float:
    """Return what a plate of this window makes of a spectrum."""
    weight = (wavelength_nm >= window_nm[0]) & (wavelength_nm <= window_nm[1])
    return float(np.trapezoid(spectrum_of_light.ravel() * weight, wavelength_nm))


def row(altitude_deg: float, window_nm: tuple[float, float], **air: float) -> tuple[float, float]:
    """Return the sun's and the sky's light at an altitude, in parts of the light above the air."""
    found = spectrum(altitude_deg, **air)
    sine = max(np.sin(np.radians(altitude_deg)), 0.01745)
    glow = found["dni"] / found["dni_extra"]
    sun = found["dni"] + found["dhi"] * glow / sine
    sky = found["dhi"] * (1 - glow)
    above = seen(found["dni_extra"], found["wavelength"], window_nm)
    return (
        seen(sun, found["wavelength"], window_nm) / above,
        seen(sky, found["wavelength"], window_nm) / above,
    )


def table() -> dict[str, list[tuple[float, float, float]]]:
    """Return the whole table, unrounded."""
    return {
        emulsion: [(float(altitude), *row(altitude, window_nm)) for altitude in ALTITUDES_DEG]
        for emulsion, window_nm in WINDOWS_NM.items()
    }


def text() -> str:
    """Return the module that is shipped, five figures to a number."""
    lines = [HEAD]
    for emulsion, rows in table().items():
        lines.append(f'        "{emulsion}": (\n')
        lines += [f"            ({altitude}, {sun:.5g}, {sky:.5g}),\n" for altitude, sun, sky in rows]
        lines.append("        ),\n")
    return "".join([*lines, "    }\n", ")\n"])


if __name__ == "__main__":
    sys.stdout.write(text())
