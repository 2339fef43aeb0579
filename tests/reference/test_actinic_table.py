"""The shipped light table against the script that made it, and the model against measurements in print."""

import math
from itertools import pairwise

import numpy as np
import pvlib
import pytest

from firmware_py.craft.actinic import Light, air_mass, barometer_ratio, clear_light
from firmware_py.craft.actinic_table import GROUND_ALBEDO, TABLE
from tests.reference.make_actinic_table import AIR, WINDOWS_NM, row, seen, spectrum, table


def stops(first, second):
    return math.log2(first / second)


def test_the_script_makes_the_shipped_table_again():
    """Tolerance: five figures are shipped."""
    made = table()
    assert set(made) == set(TABLE)
    for emulsion, rows in made.items():
        np.testing.assert_allclose(TABLE[emulsion], rows, rtol=1e-4)
    assert AIR["ground_albedo"] == GROUND_ALBEDO


@pytest.mark.parametrize("emulsion", list(WINDOWS_NM))
def test_between_the_rows_the_table_keeps_to_the_model(emulsion):
    """A fortieth of a stop where the table is trusted, a fifth below."""
    altitudes = [one[0] for one in TABLE[emulsion]]
    for below, above in pairwise(altitudes):
        middle = (below + above) / 2
        light = clear_light(middle, emulsion)
        sun, sky = row(middle, WINDOWS_NM[emulsion])
        tolerance = 0.025 if middle > 5 else 0.2
        assert abs(stops(light.sun, sun)) < tolerance
        assert abs(stops(light.sky, sky)) < tolerance


@pytest.mark.parametrize("emulsion", list(WINDOWS_NM))
@pytest.mark.parametrize("altitude", [5, 20, 45, 70])
def test_level_and_facing_surfaces_against_the_models_own(emulsion, altitude):
    """pvlib reckons tilted surfaces by itself (Hay & Davies); tolerance: the rounding of the table."""
    window = WINDOWS_NM[emulsion]
    light = clear_light(altitude, emulsion)
    for tilt, ours in ((0.0, light.level), (90.0, light.facing)):
        found = spectrum(altitude, surface_tilt=tilt)
        above = seen(found["dni_extra"], found["wavelength"], window)
        assert ours == pytest.approx(seen(found["poa_global"], found["wavelength"], window) / above, rel=2e-4)


def test_a_shaded_wall_against_pvlib():
    """Hay & Davies and the ground by pvlib, the wall turned from the sun; the numbers are made up."""
    dni, dhi, extra, altitude = 600.0, 80.0, 1000.0, 40.0
    level = dni * math.sin(math.radians(altitude)) + dhi
    reference = pvlib.irradiance.haydavies(90, 0, dhi, dni, extra, 90 - altitude, 180)
    reference += pvlib.irradiance.get_ground_diffuse(90, level, GROUND_ALBEDO)
    glow = dhi * dni / extra
    ours = Light(altitude, dni + glow / math.sin(math.radians(altitude)), dhi - glow)
    assert ours.shaded == pytest.approx(reference)


def test_abneys_transmission_of_blue_and_ultraviolet_light():
    """Abney, Phil. Trans. A 184 (1893) p. 21 (seen): .639 passes one thickness of air at 30 in of mercury.

    Tolerance 0.03: his plate's window is not known to better.
    """
    found = spectrum(90.0)
    window = WINDOWS_NM["blue"]
    passes = seen(found["dni"], found["wavelength"], window) / seen(
        found["dni_extra"], found["wavelength"], window
    )
    assert passes == pytest.approx(0.639, abs=0.03)


@pytest.mark.parametrize("height", [500, 1000, 2000, 3000])
@pytest.mark.parametrize("altitude", [10, 20, 45, 60])
def test_abneys_square_of_the_barometer_against_the_model(height, altitude):
    """The model at the height's pressure, its dust thinning by e in 2000 m (common practice, no source).

    Tolerance a sixth of a stop for the sun, 0.3 for the sky, whose share is our own reckoning.
    """
    pressure = float(pvlib.atmosphere.alt2pres(height))
    sun, sky = row(
        altitude,
        WINDOWS_NM["blue"],
        surface_pressure=pressure,
        aerosol_turbidity_500nm=0.1 * math.exp(-height / 2000),
    )
    light = clear_light(altitude, "blue", height)
    assert abs(stops(light.sun, sun)) < 1 / 6
    assert abs(stops(light.sky, sky)) < 0.3


# Bunsen & Roscoe, quoted from Chapman Jones in a handbook (seen): hours from noon, photochemical light of the
# direct sun on level ground, latitude 30.03, declination 0. Their gas answers to the violet end beyond what
# passes glass; the same model between 320 and 360 nm gives their figures to 6 % (their formula: 0.3 %).
BUNSEN_ROSCOE = [(5, 1.74), (4, 20.13), (3, 50.01), (2, 78.61)]


def _altitude(hours):
    sine = math.cos(math.radians(30.03)) * math.cos(math.radians(15 * hours))
    return math.degrees(math.asin(sine))


def _level_sun(altitude, window):
    found = spectrum(altitude)
    return seen(found["dni"], found["wavelength"], window) * math.sin(math.radians(altitude))


@pytest.mark.parametrize(("hours", "light"), BUNSEN_ROSCOE[:-1])
def test_bunsen_and_roscoes_sun_in_the_near_ultraviolet(hours, light):
    window = (320.0, 360.0)
    ours = _level_sun(_altitude(hours), window) / _level_sun(_altitude(2), window)
    assert ours == pytest.approx(light / 78.61, rel=0.07)


def test_a_blue_plate_loses_less_by_low_sun_than_bunsen_and_roscoes_gas():
    low, high = _altitude(4), _altitude(2)
    blue = _level_sun(low, WINDOWS_NM["blue"]) / _level_sun(high, WINDOWS_NM["blue"])
    assert 20.13 / 78.61 < blue < math.sin(math.radians(low)) / math.sin(math.radians(high))


def test_sun_and_sky_are_equal_on_the_level_at_45_degrees_for_chloride_paper():
    """Lisbon 1867, Roscoe & Thorpe, as reported by Abbe (seen): about 45 degrees.

    Their paper answers to the same light as the gas above. Tolerance 15 %: "about".
    """
    found = spectrum(45.0)
    window = (320.0, 360.0)
    sky = seen(found["dhi"], found["wavelength"], window)
    assert sky / _level_sun(45.0, window) == pytest.approx(1, rel=0.15)


@pytest.mark.parametrize("altitude", [1, 5, 10, 30, 60, 90])
def test_air_mass_against_pvlib(altitude):
    """Kasten & Young 1989 in both; the library's own constants, so only rounding differs."""
    reference = float(pvlib.atmosphere.get_relative_airmass(90 - altitude, "kastenyoung1989"))
    assert air_mass(altitude) == pytest.approx(reference, rel=1e-6)


@pytest.mark.parametrize("height", [-400, 0, 500, 1000, 2000, 4000])
def test_the_barometer_against_pvlib(height):
    """The standard atmosphere in both, by differently rounded constants."""
    assert barometer_ratio(height) == pytest.approx(
        float(pvlib.atmosphere.alt2pres(height)) / 101325, rel=1e-4
    )
