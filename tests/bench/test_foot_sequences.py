"""Feet, keys, plates and accidents in any order: what the lamp does is always announced, bounded and safe."""

from __future__ import annotations

from contextlib import suppress

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from firmware_py.bench.show import show
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import print as pa
from firmware_py.facts.acts import run as acts
from firmware_py.facts.events import print as pe
from tests.bench.lamp_at_hand import LampAtHand

LONGEST_S = 60.0
HAIR_S = 1e-6


class LampInAnyHands(RuleBasedStateMachine):
    """Somebody with two left feet at the lamp, a second person at the trays, and a failing house."""

    @initialize(mode=st.sampled_from(["timed", "timed", "bulb", "kept lit"]))
    def begin(self, mode):
        self.at = LampAtHand(longest_on_s=LONGEST_S)
        self.plates: list[tuple[float, float]] = []
        self.at.open_print()
        self.at.do(pa.SetBase(base_s=3.0))
        self.at.do(pa.ChooseLampMode(mode=mode))

    def ask(self, act):
        with suppress(Refused):
            self.at.do(act)

    @rule(down=st.booleans())
    def move_the_foot(self, down):
        self.at.foot(down=down)

    @rule(held_s=st.sampled_from([0.05, 0.3, 1.2, 11.0]))
    def press(self, held_s):
        self.at.press(held_s)

    @rule(seconds=st.sampled_from([0.05, 0.4, 0.7, 2.0, 5.0, 70.0]))
    def wait(self, seconds):
        self.at.pass_s(seconds)

    @rule(
        act=st.sampled_from(
            [
                pa.Expose(),
                pa.Expose(),
                pa.StopExposure(),
                pa.PutOut(),
                pa.GiveUpSheet(),
                pa.FinishSheet(),
                pa.ForgoRest(),
                pa.SetBase(base_s=2.0),
                pa.AddBurn(stops=0.5),
                pa.PlanStrip(patches=3, step_stops=1.0, middle_s=2.0),
                pa.ChooseLampMode(mode="timed"),
                pa.ChooseLampMode(mode="bulb"),
                pa.ChooseLampMode(mode="kept lit"),
                pa.ServeFoot(to="trays"),
                pa.ServeFoot(to="lamp"),
                pa.OpenPrint(negative="another", paper="contact paper"),
                pa.UseProgram(),
                pa.BatheSheet(),
            ]
        )
    )
    def do_something_at_the_lamp(self, act):
        self.ask(act)

    @rule(
        act=st.sampled_from(
            [
                acts.OpenRun(plate="Kvarnvik 3", routine="plain"),
                acts.Proceed(),
                acts.Pull(),
                acts.CutShort(),
                acts.Abandon(),
            ]
        )
    )
    def do_something_at_the_trays(self, act):
        self.ask(act)

    @rule(seconds=st.sampled_from([0.4, 4.0]))
    def press_and_wait(self, seconds):
        self.at.pass_s(1.0)
        self.at.press()
        self.at.pass_s(seconds)

    @rule()
    def clear_the_trays(self):
        for number in list(self.at.bench.runs.lanes):
            self.ask(acts.Abandon(lane=number))
        self.at.do(pa.ServeFoot(to="lamp"))

    @rule(in_mid_exposure=st.booleans())
    def lose_the_switchboard(self, in_mid_exposure):
        if in_mid_exposure == self.at.is_lit:
            self.at.switchboard.lose("it died")
        self.at.pass_s(0.1)

    @rule()
    def press_while_the_disk_is_full(self):
        self.at.book_refuses = "the disk is full"
        self.at.press()
        self.at.book_refuses = ""

    # --- what must hold whatever they do ---

    @invariant()
    def the_lamp_is_lit_only_for_an_exposure_that_the_book_has(self):
        if not hasattr(self, "at"):
            return
        announced = [e for e in self.at.events() if isinstance(e, pe.ExposureAnnounced)]
        if self.at.is_lit:
            assert self.at.last_record().state in {"lit", "warm", "uncovered"}
            lamp = self.at.last_record().lamp_lit
            assert lamp is not None
            assert lamp.exposure in {e.exposure for e in announced}
        assert len(self.at.lit) <= len(announced)

    @invariant()
    def the_lamp_is_never_lit_with_an_open_plate(self):
        if hasattr(self, "at") and self.at.bench.open_plates():
            assert not self.at.is_lit

    @invariant()
    def no_exposure_outlasts_its_ceiling(self):
        if not hasattr(self, "at"):
            return
        ended = [e for e in self.at.events() if isinstance(e, pe.ExposureEnded)]
        assert [e.off_s - e.on_s for e in ended] == [lit.lasted_s for lit in self.at.lit]
        record = self.at.last_record()
        every = [*record.kept_lit, *(e for s in record.sheets for e in s.exposures if not e.by_hand)]
        for exposure in every:
            assert exposure.lasted_s <= min(exposure.ceiling_s or 0.0, LONGEST_S) + HAIR_S

    @invariant()
    def the_book_alone_makes_the_print_and_the_page_can_be_drawn(self):
        if not hasattr(self, "at"):
            return
        assert self.at.replayed() == self.at.last_record()
        view = show(self.at.bench)
        assert view.lamp.on == self.at.is_lit
        assert view.lamp.foot_press or view.lamp.foot_long or view.lamp.blocked or view.lamp.next == ""

    @invariant()
    def what_the_sheets_got_is_what_the_lamp_gave(self):
        if not hasattr(self, "at") or self.at.last_record().kept_lit:
            return
        record = self.at.last_record()
        measured = sum(e.lasted_s for s in record.sheets for e in s.exposures)
        assert measured <= self.at.lamp_seconds() + HAIR_S


LampInAnyHands.TestCase.settings = settings(
    max_examples=60, stateful_step_count=30, deadline=None, suppress_health_check=list(HealthCheck)
)
test_any_order_of_feet_keys_plates_and_accidents = LampInAnyHands.TestCase
