"""Baths on the bench: made, meant by a step, used, judged by age, area and clearing, and thrown away."""

from __future__ import annotations

from datetime import timedelta

import pytest

from firmware_py.bench.show import show
from firmware_py.bench.upkeep.baths import BathRule
from firmware_py.bench.upkeep.plates import PlateRule
from firmware_py.bench.upkeep.upkeep import UpkeepPlan
from firmware_py.craft.plate_sizes import PLATE_SIZES
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import bath as ua
from firmware_py.facts.acts import run as acts
from firmware_py.facts.events import bath as be
from firmware_py.facts.events import plate as pe
from firmware_py.journal.bath_record import BathRecord
from firmware_py.journal.run_record import RunRecord
from tests.bench.upkeep_at_hand import EVENING, UpkeepAtHand

HALF_CM2 = PLATE_SIZES["English half plate"].area_cm2
HALF = PlateRule("English half plate", "home ripened", "blue")


def strict() -> UpkeepAtHand:
    return UpkeepAtHand(plan=UpkeepPlan(baths=BathRule("refuse"), plates=HALF))


def bath(at: UpkeepAtHand, name: str = "developer 1") -> BathRecord:
    found: BathRecord = at.upkeep.baths.called(name)
    return found


def seen(at: UpkeepAtHand, name: str = "developer 1"):
    return next(one for one in show(at.bench).baths if one.name == name)


def test_a_bath_is_named_by_itself_and_used_by_the_plate_that_goes_in():
    """The routine's words mean it: nobody has to say so; each plate counts once for each bath."""
    at = UpkeepAtHand()
    at.make()
    at.make("hypo")
    at.whole_run("Kvarnvik 3")
    assert bath(at).done_cm2 == pytest.approx(HALF_CM2)
    assert bath(at, "hypo 1").done_cm2 == pytest.approx(HALF_CM2)
    assert [use.plate for use in bath(at).uses] == ["Kvarnvik 3"]
    view = show(at.bench).lanes[0]
    assert [step.bath_name for step in view.steps] == ["developer 1", "", "hypo 1"]


def test_two_baths_that_could_be_meant_are_asked_for_and_the_answer_is_remembered():
    """A guess between two would count the wrong one."""
    at = UpkeepAtHand()
    at.make(name="morning")
    at.make(name="evening")
    at.open()
    assert not at.lane.record.baths
    at.do(ua.NameBath(bath="evening"))
    at.proceed()
    assert bath(at, "evening").runs == 1
    assert bath(at, "morning").runs == 0
    at.do(acts.Abandon())
    at.open("Kvarnvik 4")
    assert at.lane.record.baths[0].bath == "evening"


def test_a_bath_may_be_named_when_the_run_is_opened():
    at = UpkeepAtHand()
    at.make(name="morning")
    at.make(name="evening")
    at.open(baths=(("Develop", "morning"),))
    at.proceed()
    assert bath(at, "morning").runs == 1


@pytest.mark.parametrize(
    ("pairs", "words"),
    [
        ((("Develop", "nothing"),), "no bath is called 'nothing'; allowed: developer 1, hypo 1"),
        ((("Bleach", "developer 1"),), "allowed: Develop"),
        ((("Fix", "developer 1"),), "developer 1 for 'Fix'"),
    ],
)
def test_a_run_with_a_bath_that_can_not_be_meant_is_not_opened(pairs, words):
    at = UpkeepAtHand()
    at.make()
    at.make("hypo")
    with pytest.raises(Refused, match=words):
        at.open(baths=pairs)
    assert not at.bench.runs.lanes


def test_a_used_developer_takes_longer_by_its_formula_and_the_log_alone_reproduces_it():
    """10 % for every 400 cm² a litre: the second plate in half a litre takes 1.0996 times 120 s."""
    at = UpkeepAtHand()
    at.make()
    lasted = []
    for plate in ("Kvarnvik 3", "Kvarnvik 4", "Kvarnvik 5"):
        at.open(plate)
        at.proceed()
        at.pass_s(200.0)
        step = at.lane.record.steps[0]
        assert step.ended_s is not None
        lasted.append(step.equivalent_s)
        at.do(acts.Abandon())
    rule = [120.0 * (1 + 0.10 * n * HALF_CM2 / (400.0 * 0.5)) for n in range(3)]
    assert lasted == [pytest.approx(time_s, rel=1e-6) for time_s in rule]
    run_id = at.bench.runs.opened[2]
    replayed = RunRecord.replay([entry for entry in at.entries if entry.subject == run_id])
    assert replayed.steps[0].equivalent_s == lasted[2]
    assert replayed.times_longer(0) == pytest.approx(rule[2] / 120.0)


def test_the_time_is_that_of_the_moment_the_plate_goes_in():
    """Opened before another plate used the bath, started after it."""
    at = UpkeepAtHand()
    at.make()
    at.open("first")
    at.open("second")
    assert at.bench.runs.lanes[2].record.times_longer(0) == 1.0
    at.proceed(1)
    at.proceed(2)
    assert at.bench.runs.lanes[1].record.times_longer(0) == 1.0
    assert at.bench.runs.lanes[2].record.times_longer(0) == pytest.approx(1 + 0.1 * HALF_CM2 / 200.0)


def test_an_exhausted_bath_warns_and_the_run_goes_on():
    at = UpkeepAtHand()
    at.make(volume_ml=90.0)
    at.whole_run("Kvarnvik 3")
    at.open("Kvarnvik 4")
    at.pass_s(1.0)
    assert "Bath developer 1 is used up" in at.words_standing
    at.proceed()
    assert at.lane.is_developing or at.bench.runs.lanes[1].is_developing
    assert seen(at).state == "used up"
    assert seen(at).left_cm2 == 0.0


def test_where_the_setting_says_so_an_exhausted_bath_is_refused_at_the_first_step_only():
    """A plate on its way out of the developer is never held up."""
    at = strict()
    at.make()
    at.make("hypo", 100.0)
    at.whole_run("Kvarnvik 3")
    at.open("Kvarnvik 4")
    with pytest.raises(Refused, match=r"bath 'hypo 1' is used up.*allowed: a fresh one"):
        at.proceed()
    at.do(ua.DiscardBath(bath="hypo 1", why="used up"))
    at.make("hypo")
    at.proceed()
    at.clock.jump_to(at.clock.now_s() + 7200.0)
    at.pass_s(1.0)
    assert at.lane.plan is not None
    assert at.lane.plan.name == "Rinse"


def test_a_foot_is_told_of_an_exhausted_bath_too():
    at = strict()
    at.make(keeps_s=60.0)
    at.open()
    at.pass_s(120.0)
    at.bench.step_on(_edge(at, down=True))
    at.bench.step_on(_edge(at, down=False))
    assert "too old" in at.words_standing
    assert at.lane.here is None


def _edge(at: UpkeepAtHand, *, down: bool):
    from firmware_py.devices.foot_switch import FootEdge

    return FootEdge(down, at.clock.now_s())


def test_a_bath_grows_old_by_the_day_it_was_made():
    at = UpkeepAtHand()
    at.make(made=(EVENING - timedelta(minutes=55)).isoformat())
    assert seen(at).state == "nearly done"
    assert seen(at).advice[-2:] == ("Keeps for 5 min yet", "In its last tenth: mix the next")
    at.pass_s(301.0)
    assert seen(at).state == "too old"
    assert seen(at).against == "too old by 1 s"


def test_a_wrong_wall_clock_takes_nothing_away():
    """A clock that went back leaves the age unknown; the date can be put right; nothing is discarded."""
    at = UpkeepAtHand()
    at.make()
    at.clock._start_utc = EVENING - timedelta(days=400)
    view = seen(at)
    assert (view.age_s, view.left_s, view.against) == (None, None, "")
    assert "its age is not known" in view.advice[0]
    at.clock._start_utc = EVENING + timedelta(days=400)
    at.open()
    at.proceed()
    at.pass_s(1.0)
    assert "too old" in at.words_standing
    at.do(ua.DateBath(bath="developer 1", made=at.clock.utc().isoformat()))
    at.pass_s(1.0)
    assert "too old" not in at.words_standing
    assert bath(at).state == "open"


@pytest.mark.parametrize(
    ("made", "words"),
    [("yesterday", "is no date"), ("2026-03-15", "still to come"), ("2026-13-40", "no date")],
)
def test_a_day_that_can_not_be_meant_is_refused(made, words):
    at = UpkeepAtHand()
    with pytest.raises(Refused, match=words):
        at.make(made=made)
    assert not at.upkeep.baths.standing


def test_a_fixer_is_judged_by_its_clearing_against_the_fresh_one():
    at = UpkeepAtHand()
    at.make("hypo", fresh_clearing_s=60.0)
    for clearing_s, against in (
        (60.0, ""),
        (100.0, ""),
        (120.0, "spent: it clears in 2.0 times its fresh time"),
    ):
        at.do(ua.SeeClearing(bath="hypo 1", clearing_s=clearing_s))
        assert seen(at, "hypo 1").against == against
    assert seen(at, "hypo 1").times_fresh == 2.0


def test_the_mark_that_a_plate_is_clear_judges_the_fixer_it_lies_in():
    """The first plate in a fresh fixer gives its fresh time; a mark taken back and made anew counts anew."""
    at = UpkeepAtHand()
    at.make("hypo")
    for plate, clears_s in (("Kvarnvik 3", 60.0), ("Kvarnvik 4", 90.0)):
        at.open(plate)
        at.proceed()
        at.do(acts.Pull())
        at.pass_s(31.0)
        at.proceed()
        at.pass_s(clears_s)
        at.do(acts.Mark(what="plate is clear"))
        at.do(acts.Abandon())
    assert seen(at, "hypo 1").fresh_clearing_s == pytest.approx(60.0)
    assert seen(at, "hypo 1").clearing_s == pytest.approx(90.0)
    assert seen(at, "hypo 1").times_fresh == pytest.approx(1.5)
    assert "Clears in 1.5 times its fresh time: have a new one ready" in seen(at, "hypo 1").advice


def test_a_developer_clears_nothing():
    at = UpkeepAtHand()
    at.make()
    with pytest.raises(Refused, match="is a developer"):
        at.do(ua.SeeClearing(bath="developer 1", clearing_s=60.0))


def test_a_bath_with_a_plate_in_it_is_not_thrown_away():
    at = UpkeepAtHand()
    at.make()
    at.open()
    at.proceed()
    with pytest.raises(Refused, match="Kvarnvik 3"):
        at.do(ua.DiscardBath(bath="developer 1"))
    at.pass_s(130.0)
    at.do(ua.DiscardBath(bath="developer 1", why="brown"))
    assert at.events(be.BathDiscarded) == [be.BathDiscarded(why="brown")]
    assert show(at.bench).baths == ()


def test_a_bath_can_not_be_changed_under_a_plate():
    at = UpkeepAtHand()
    at.make()
    at.open()
    at.proceed()
    at.make(name="other")
    with pytest.raises(Refused, match="lies in developer 1 already"):
        at.do(ua.NameBath(bath="other"))


def test_two_baths_do_not_share_a_name_and_the_next_number_is_free():
    at = UpkeepAtHand()
    at.make()
    at.make()
    with pytest.raises(Refused, match="called 'Developer 2' already"):
        at.make(name="Developer 2")
    assert [b.name for b in at.upkeep.baths.standing.values()] == ["developer 1", "developer 2"]
    with pytest.raises(Refused, match=r"no formula 'soup'; allowed: developer, hypo"):
        at.make("soup")


def test_without_a_size_a_use_is_counted_but_no_area():
    at = UpkeepAtHand(plan=UpkeepPlan())
    at.make()
    at.open()
    at.proceed()
    assert (bath(at).runs, bath(at).done_cm2) == (1, 0.0)


def test_a_plate_is_what_was_said_of_it_or_as_usual():
    at = UpkeepAtHand()
    at.open(size="whole plate")
    described = at.lane.record.plate_kind
    assert described == pe.PlateDescribed(
        size="whole plate",
        area_cm2=PLATE_SIZES["whole plate"].area_cm2,
        emulsion="home ripened",
        sensitivity="blue",
    )
    at.do(ua.DescribePlate(emulsion="batch 9"))
    assert at.lane.record.plate_kind is not None
    assert (at.lane.record.plate_kind.size, at.lane.record.plate_kind.emulsion) == ("whole plate", "batch 9")
    with pytest.raises(Refused, match="two sizes"):
        at.open("x", size="half plate")
    assert len(at.bench.runs.lanes) == 1


def test_the_next_plates_are_told_of():
    """500 ml at 2000 cm² a litre do five half plates; after one, four."""
    at = UpkeepAtHand()
    at.make()
    assert "Good for 5 more plates" in seen(at).advice
    at.whole_run("Kvarnvik 3")
    assert "Good for 4 more plates" in seen(at).advice
    assert "The next development takes 10 % longer" in seen(at).advice


# --- two bottles of one formula ---


def two_bottles() -> UpkeepAtHand:
    """Two of the fixer by their usual names, one developer, and plates with a size."""
    at = UpkeepAtHand(plan=UpkeepPlan(plates=HALF))
    at.make()
    at.make("hypo")
    at.make("hypo")
    return at


def into_the_fixer(at: UpkeepAtHand, plate: str = "Kvarnvik 3") -> None:
    at.open(plate)
    at.proceed()
    at.pass_s(200.0)
    at.proceed()
    assert at.lane.record.plan(at.lane.here).name == "Fix"


def test_a_fixer_of_which_two_bottles_stand_here_is_asked_for_and_then_counted():
    """Not silently none: the step says which there are, until one is named; then it is known by itself."""
    at = two_bottles()
    into_the_fixer(at)
    step = show(at.bench).lanes[0].steps[2]
    assert (step.bath_name, step.bath_choices) == ("", ("hypo 1", "hypo 2"))
    assert "Run 1, Fix: which bath, hypo 1 or hypo 2?" in at.words_standing
    at.do(ua.NameBath(bath="hypo 2"))
    at.pass_s(1.0)
    assert "which bath" not in at.words_standing
    assert show(at.bench).lanes[0].steps[2].bath_name == "hypo 2"
    assert bath(at, "hypo 1").done_cm2 == 0.0
    assert bath(at, "hypo 2").done_cm2 == pytest.approx(HALF_CM2)
    at.do(acts.Abandon())
    into_the_fixer(at, "Kvarnvik 4")
    at.pass_s(1.0)
    assert "which bath" not in at.words_standing
    assert bath(at, "hypo 2").runs == 2


def test_where_nobody_says_which_bottle_it_was_the_plate_counts_on_the_one_last_used():
    """By foot, or by a script, no question is answered: it counts once all the same, and that is told."""
    at = two_bottles()
    into_the_fixer(at)
    at.do(ua.NameBath(bath="hypo 2"))
    at.do(acts.Abandon())
    at.upkeep.bath_use._usual.clear()
    into_the_fixer(at, "Kvarnvik 4")
    at.pass_s(301.0)
    at.proceed()
    assert "Run 1, Fix: counted on hypo 2" in at.words_standing
    assert (bath(at, "hypo 1").runs, bath(at, "hypo 2").runs) == (0, 2)
    at.open("Kvarnvik 5")
    at.pass_s(1.0)
    assert "counted on" not in at.words_standing


def test_a_run_given_up_in_a_fixer_that_nobody_named_is_counted_once_too():
    at = two_bottles()
    into_the_fixer(at)
    at.do(acts.Abandon())
    at.pass_s(1.0)
    assert [use.plate for use in bath(at, "hypo 1").uses] == ["Kvarnvik 3"]
    assert bath(at, "hypo 2").runs == 0


def test_a_bottle_that_is_used_up_is_not_assumed_while_a_good_one_stands_beside_it():
    at = UpkeepAtHand(plan=UpkeepPlan(plates=HALF))
    at.make()
    at.make("hypo", volume_ml=20.0)
    at.make("hypo")
    into_the_fixer(at)
    at.do(ua.NameBath(bath="hypo 1"))
    at.do(acts.Abandon())
    assert seen(at, "hypo 1").state == "used up"
    at.upkeep.bath_use._usual.clear()
    into_the_fixer(at, "Kvarnvik 4")
    at.do(acts.Abandon())
    assert bath(at, "hypo 2").runs == 1


def test_a_development_that_is_over_is_not_lengthened_by_the_bath_assumed_for_it():
    """Its time was that of a fresh bath; only its area counts."""
    at = UpkeepAtHand(plan=UpkeepPlan(plates=HALF))
    at.make(name="morning")
    at.make(name="evening")
    for plate in ("Kvarnvik 3", "Kvarnvik 4"):
        at.open(plate)
        at.proceed()
        at.pass_s(121.0)
        assert at.lane.record.steps[0].equivalent_s == pytest.approx(120.0)
        assert at.lane.record.times_longer(0) == 1.0
        assert at.lane.record.baths[0].bath == "morning"
        at.do(acts.Abandon())
    assert bath(at, "morning").runs == 2
