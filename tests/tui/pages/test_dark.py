"""The dark: a screen without any light, that is left by three presses, and whose keys still act."""

from __future__ import annotations

from firmware_py.facts.acts.print import ServeFoot
from firmware_py.facts.acts.run import Mark, OpenRun, Proceed, Pull
from firmware_py.service.client import LinkLost
from tests.tui.pages.stage import Stage, stage
from tests.tui.sample_bench import bench, due, lane, six_lanes
from tui.darkness import LIT_FOR_S, TOLD_FOR_S
from tui.gate.dark import is_dark

BLACK = (0, 0, 0)
# A real bench: nobody is told first what nobody can be told without light.
IN_THE_DARK = bench(lane(light_allowed="dark"), light_allowed="dark", rehearsal=False)


def lights(on: Stage) -> set[tuple[int, int, int]]:
    """Every colour of every cell."""
    found = set()
    for segment in (segment for row in on.segments() for segment in row):
        assert segment.style is not None
        for colour in (segment.style.color, segment.style.bgcolor):
            assert colour is not None
            assert colour.triplet is not None
            found.add((colour.triplet.red, colour.triplet.green, colour.triplet.blue))
    return found


def assert_black(on: Stage) -> None:
    assert lights(on) == {BLACK}
    assert on.text().split() == []


async def test_no_cell_is_lit_while_a_plate_bears_no_light(tmp_path):
    async with stage(tmp_path, bench(lane(), rehearsal=False)) as on:
        assert len(lights(on)) > 1
        await on.show(IN_THE_DARK)
        assert_black(on)
        assert is_dark(tmp_path)
        for view in (LinkLost("gone"), bench(due(2), *IN_THE_DARK.lanes, light_allowed="dark")):
            await on.show(view)
            assert_black(on)
        await on.show(bench(lane(), rehearsal=False))
        assert "time left" in on.text()
        assert not is_dark(tmp_path)


async def test_a_question_a_toast_or_a_page_that_stood_open_lights_nothing(tmp_path):
    async with stage(tmp_path, bench(lane(), rehearsal=False)) as on:
        for keys in ("n x", "h", "0 3 m"):
            await on.show(bench(lane(), rehearsal=False))
            await on.press(*keys.split())
            await on.show(IN_THE_DARK)
            on.screen.say("a word of the screen")
            on.screen.notify("a toast")
            await on.press("n", "o", "h", "0", "plus", "t")
            assert_black(on)
            on.rest()
            await on.press("p")
            assert on.link.asked[-1] == Pull(lane=1), keys


async def test_keys_act_in_the_dark_but_none_that_asks_turns_away_or_leaves(tmp_path):
    async with stage(tmp_path, bench(lane(), rehearsal=False)) as on:
        await on.show(IN_THE_DARK)
        assert_black(on)
        await on.press("n", "right", "q", "p", "1", "enter")
        assert on.link.asked == [Pull(lane=1), Mark(what="image appears", lane=1), Proceed(lane=1)]
        assert on.screen.is_running
        assert_black(on)


async def press_light(on: Stage, own_s: list[float], times: int, every_s: float = 0.2) -> None:
    for _ in range(times):
        own_s[0] += every_s
        await on.press("l")


async def test_three_presses_light_it_dimly_and_for_a_while(tmp_path):
    own_s = [0.0]
    async with stage(tmp_path, bench(lane(), rehearsal=False), own_s=lambda: own_s[0]) as on:
        await on.show(IN_THE_DARK)
        await press_light(on, own_s, 2)
        own_s[0] += 4.0
        await press_light(on, own_s, 1)
        assert_black(on)
        await press_light(on, own_s, 5, every_s=0.03)
        assert_black(on)
        own_s[0] += 4.0
        await press_light(on, own_s, 3)
        assert "BLACK in 0:15: TOTAL DARKNESS" in on.text()
        assert max(red for red, _, _ in lights(on)) <= 0.13 * 255
        own_s[0] += LIT_FOR_S
        on.screen.draw()
        await on.settle()
        assert_black(on)
        await press_light(on, own_s, 4)
        assert_black(on)


async def test_a_person_is_told_the_way_back_before_a_plate_without_light_is_opened(tmp_path):
    dark = bench(rehearsal=False, in_the_dark=("metol-hydroquinone",))
    async with stage(tmp_path, dark) as on:
        await on.press("o", "2", "x", "enter")
        assert "L THREE TIMES lights it" in on.text()
        assert on.link.asked == []
        await on.press("y")
        assert [act for act in on.link.asked if isinstance(act, OpenRun)]
        on.link.asked.clear()
        on.rest()
        await on.press("o", "1", "x", "enter")
        assert len(on.link.asked) == 1


async def test_a_rehearsal_that_a_script_plays_is_told_first(tmp_path):
    own_s = [0.0]
    async with stage(tmp_path, bench(lane()), own_s=lambda: own_s[0]) as on:
        await on.show(bench(lane(light_allowed="dark"), light_allowed="dark"))
        assert "BLACK in 0:06" in on.text()
        own_s[0] += TOLD_FOR_S
        on.screen.draw()
        await on.settle()
        assert_black(on)


async def test_a_screen_is_made_black_by_hand_and_says_before_how_to_light_it(tmp_path):
    own_s = [0.0]
    async with stage(tmp_path, six_lanes(), own_s=lambda: own_s[0]) as on:
        await on.press("l")
        assert "L THREE TIMES lights it" in on.text()
        await on.press("y")
        assert_black(on)
        await press_light(on, own_s, 3)
        assert "NOW  TRAY 2" in on.text()


async def test_the_foot_comes_to_the_trays_when_it_gets_dark(tmp_path):
    async with stage(tmp_path, bench(lane(), foot_serves="lamp", rehearsal=False)) as on:
        await on.show(bench(lane(), foot_serves="lamp", light_allowed="dark", rehearsal=False))
        assert on.screen.page == "trays"
        assert ServeFoot(to="trays") in on.link.asked
