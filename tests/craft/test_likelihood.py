"""The likelihood of a plate's evidence, against numerical integration by scipy."""

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import norm

from firmware_py.craft.belief import PlateEvidence, Prior
from firmware_py.craft.emulsion import theta_of
from firmware_py.craft.likelihood import NEAR_NODES, NODES, log_likelihood
from firmware_py.craft.plate_facts import PlateFacts

PRIOR = Prior(usual_s=300.0, reference_degC=20.0)
STOPS, DEVELOPED_S, BATH_degC = 0.5, 280.0, 22.0


@pytest.mark.parametrize(("nodes", "degree"), [(NODES, 7), (NEAR_NODES, 5)])
def test_the_nodes_have_the_moments_of_a_normal_law(nodes, degree):
    for power in range(degree + 1):
        found = math.fsum(weight * node**power for node, weight in nodes)
        assert found == pytest.approx(norm.moment(power) if power else 1.0, abs=1e-9)


def integrated(plate: PlateEvidence, theta: tuple[float, ...]) -> float:
    """Return the ln likelihood of words, densities and appearance, written anew from its description."""
    speed, gamma_inf, k, appears, sooner, toe, shoulder, per_K, right, weight_right, wanted, worse = theta
    kelvin = BATH_degC - 20.0
    gamma = gamma_inf * (1 - math.exp(-k * DEVELOPED_S / 60 * math.exp(per_K * kelvin)))

    def softplus(x: float, wide: float) -> float:
        return wide * float(np.logaddexp(0, x / wide))

    def at(light: float) -> float:
        need = STOPS + speed + light
        x = -0.1 + math.log10(2) * need
        low = softplus(x, toe) - softplus(x - shoulder, 0.25)
        far = x + math.log10(30)
        high = softplus(far, toe) - softplus(far - shoulder, 0.25)
        shadow, span = gamma * low, gamma * (high - low)
        likely = norm.pdf(light, 0, worse * plate.light_doubt_stops)
        if plate.appeared_s is not None:
            expected = math.log(appears / k) - per_K * kelvin - sooner * need
            likely *= 0.95 * norm.pdf(math.log(plate.appeared_s / 60), expected, 0.14) + 0.015
        if plate.contrast == "right":
            error = math.hypot(0.10, 0.05)
            part = norm.cdf(1.05 + right, span, error) - norm.cdf(1.05 - right, span, error)
            likely *= 0.95 * part + 0.01
        if plate.density == "thin":
            heavy = shadow - wanted + 0.3 * (span - 1.05)
            likely *= 0.95 * norm.cdf(-weight_right - 0.17, heavy, 0.10) + 0.01
        read, end, fog = plate.shadow_density, plate.highlight_density, plate.fog_density
        if read is not None and end is not None and fog is not None:
            likely *= 0.97 * norm.pdf(read - fog, shadow, 0.03) + 0.015
            error = math.hypot(0.042, 0.05 * gamma)
            likely *= 0.97 * norm.pdf(end - read, span, error) + 0.015
        return float(likely)

    return math.log(quad(at, -5, 5, limit=400, epsabs=1e-12)[0])


WORDS = {"contrast": "right", "density": "thin"}
READ = {"shadow_density": 0.45, "highlight_density": 1.55, "fog_density": 0.2}


@pytest.mark.parametrize("shift", [-0.7, 0.0, 0.6])
@pytest.mark.parametrize(("told", "close"), [(WORDS, 0.25), (READ, 0.2), ({"appeared_s": 45.0}, 0.1)])
def test_the_light_is_integrated_out_as_scipy_does(told, close, shift):
    plate = PlateEvidence(exposure_stops=STOPS, developed_s=DEVELOPED_S, bath_degC=BATH_degC, **told)
    theta = theta_of([0.4 * shift, 0.3, shift, 0.1, 0.0, shift, 0.2, -0.5, 0.3, -0.2, 0.1, 0.3], PRIOR)
    assert log_likelihood(PlateFacts.of(plate, PRIOR), theta) == pytest.approx(
        integrated(plate, theta), abs=close
    )
