"""An advice for pages to draw."""

from firmware_py.craft.belief import Advice, Cause, Known, Learning
from firmware_py.craft.fogging import FogBelief
from firmware_py.journal.box_advice import BoxAdvice, BoxBelief, Correction, PlateTaught


def box_advice() -> BoxAdvice:
    """Return the advice for an invented box after one plate."""
    return BoxAdvice(
        box="blue 7",
        developer="pyro-soda",
        rehearsal=True,
        advice=Advice(
            exposure_stops=1.5,
            exposure_low_stops=0.5,
            exposure_high_stops=2.5,
            developed_s=340.0,
            developed_low_s=290.0,
            developed_high_s=390.0,
            equivalent_s=340.0,
            chance=0.71,
            factor=8.25,
            factor_chance=0.66,
            most_doubt="speed",
            learning=Learning("bracket", 0.86, 0.71),
        ),
        belief=BoxBelief(
            index=2.4,
            speed_stops=Known(-0.7, 0.6),
            gamma_inf=Known(1.5, 0.25),
            k_per_min=Known(0.21, 0.06),
            times_per_10K=Known(1.9, 0.24),
            fog=FogBelief(0.14, 0.05, 0),
            change=None,
        ),
        plates=(PlateTaught("B7-1", 300.0, "flat", "thin", 0.0, (Cause("under-exposed", 0.83),)),),
        correction=Correction(1.5, 0.6, 1),
        reference_degC=18.0,
        papers=(1.05,),
        left_out=0,
        question="shadow detail",
        hints=(),
    )
