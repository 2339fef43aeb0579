"""The red screen: draws the bench as it is seen, and asks it for what the keys say. It decides nothing."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Coroutine
from functools import partial
from math import isfinite
from pathlib import Path
from typing import Any, ClassVar, cast

from textual import events
from textual.app import App
from textual.binding import BindingType
from textual.driver import Driver
from textual.filter import LineFilter
from textual.screen import Screen

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.print import ServeFoot
from firmware_py.facts.acts.run import AnyAct
from firmware_py.facts.views.bench import BenchView
from firmware_py.service.book_questions import AnyAnswer, AnyQuestion
from firmware_py.service.checked_act import checked
from firmware_py.service.client import LinkLost
from firmware_py.settings.screen import ScreenSection
from tui.bell import Bell
from tui.bench_time import BenchTime
from tui.darkness import DEEDS_IN_THE_DARK, darkens
from tui.desk import Desk
from tui.driver import RedDriver, ceiling
from tui.faults import kept
from tui.key_path import Fetched, KeyPath
from tui.link import BenchLink
from tui.moment import Moment
from tui.pages.help.page import HelpPage
from tui.pages.key_table import EVERYWHERE, PAGES
from tui.pages.lamp.words import is_exposing
from tui.pages.opening import open_page
from tui.pages.shared.binding import bindings
from tui.pages.shared.dark_forms import plate_question
from tui.pages.shared.everywhere_deeds import DeedsEverywhere
from tui.pages.shared.light_deeds import LightDeeds
from tui.pages.shared.page import Page
from tui.pages.shared.page_names import PageName
from tui.pages.shared.starting_deeds import StartingDeeds
from tui.screen_light import ScreenLight
from tui.theme import reddened
from tui.widgets.asking import Asking, Question, Typed

# A key that is held down repeats itself: the same act again within this is the same press.
SAME_PRESS_S = 0.7
# However fast a rehearsal runs, nobody reads more than this.
FASTEST_TICK_S = 0.1
SAID_FOR_S = 12.0
# A service manager that looks after the controller has it back sooner than this.
START_AFTER_S = 5.0


class EmbertrayScreen(DeedsEverywhere, LightDeeds, StartingDeeds, App[None], inherit_bindings=False):
    """The application. ``link`` is its only door to the bench; ``state`` keeps its brightness and faults.

    With ``leave_when_over`` it leaves when its controller does: a rehearsal that nobody plays is over then.
    ``start`` starts a controller where none answers any more; without it that is left to others.
    ``read_s`` reads the screen's own clock [s]: the event loop's, unless a test holds one. ``begins_dark``
    has it black from the first cell on, until the bench says otherwise. ``rule`` is what the settings say of
    the screen, and ``trouble`` what is wrong with them.
    """

    CSS_PATH = "embertray.tcss"
    ENABLE_COMMAND_PALETTE = False
    ALLOW_SELECT = False
    BINDINGS: ClassVar[list[BindingType]] = bindings(EVERYWHERE)
    SCREENS: ClassVar[dict[str, Callable[[], Screen[Any]]]] = {
        page: partial(open_page, page) for page in PAGES
    }

    def __init__(
        self,
        link: BenchLink,
        state: Path,
        *,
        driver: type[Driver] = RedDriver,
        leave_when_over: bool = False,
        start: Callable[[], None] | None = None,
        read_s: Callable[[], float] | None = None,
        begins_dark: bool = False,
        rule: ScreenSection | None = None,
        trouble: str = "",
    ) -> None:
        self._trouble = trouble
        self._light = ScreenLight(state, ceiling(), begins_dark=begins_dark, rule=rule)
        self._bell = Bell(self._ring)
        super().__init__(driver_class=driver)
        self.link = link
        self.state = state
        self.view: BenchView | None = None
        self.page: PageName = "trays"
        self._leave_when_over = leave_when_over
        self._start = start
        self._lost: tuple[LinkLost, float] | None = None
        self._own_s = read_s or _loop_s
        self._time = BenchTime(self._own_s)
        self._said, self._said_at_s = "", 0.0
        self._pressed: dict[object, float] = {}
        self._faults: list[str] = []
        self._ticking: asyncio.TimerHandle | None = None
        self._turning: Awaitable[object] | None = None
        self._keys = KeyPath(
            self._laid_page,
            self._check_bindings,
            self._own_s,
            is_exposing=lambda: is_exposing(self.view),
            is_black=lambda: self.is_black,
        )
        for theme in self._light.themes():
            self.register_theme(theme)
        self.theme = self._light.theme

    @property
    def desk(self) -> Desk:
        """Get what its own keys work at: the screen itself."""
        return self

    def get_line_filters(self) -> list[LineFilter]:
        """Return the line filters, red last."""
        return [*super().get_line_filters(), self._light.filter]

    def get_css_variables(self) -> dict[str, str]:
        """Return the style variables, every colour red."""
        return reddened(super().get_css_variables(), self._light.filter.level)

    @property
    def is_black(self) -> bool:
        """Get whether the screen shows nothing at all."""
        return self._light.is_black

    # --- what the bench says ---

    def on_mount(self) -> None:
        """Open the page and begin to watch the bench."""
        self._turning = self.push_screen(self.page)
        self.run_worker(self._watch(), name="watch")

    async def _watch(self) -> None:
        async for seen in self.link.watch():
            if isinstance(seen, BenchView):
                if self.view is None:
                    # A screen that was opened anew goes on where hands and foot are.
                    self.turn_to(seen.foot_serves)
                self.view, self._lost = seen, None
                self._time.set(seen)
                self._light.darkness.see(seen, self._own_s())
                self._bell.hear(seen.sounded)
            elif self._leave_when_over and self.view is not None and not seen.frozen:
                self.exit()
            elif self._lost is None:
                self._lost = (seen, self._own_s())
            self.draw()

    def on_page_laid(self) -> None:
        """Draw a page as soon as it can be."""
        self.draw()

    def on_asking_changed(self) -> None:
        """Draw the keys of a question, or those of the page again."""
        self.draw()

    def draw(self) -> None:
        """Draw the page on top, and come back when its next digit changes."""
        if not self.is_running or not isinstance(self.screen, Page):
            return
        self._mind_darkness()
        if self.screen.is_laid and not self.is_black:
            self.screen.draw_in(self.moment())
        if self._ticking is not None:
            self._ticking.cancel()
        self._ticking = asyncio.get_running_loop().call_later(self._next_tick_s(self.screen), self.draw)

    def moment(self) -> Moment:
        """Return what a page needs to draw itself now."""
        own_s = self._own_s()
        lost, since_s = self._lost or (None, own_s)
        said = self._said if own_s - self._said_at_s < SAID_FOR_S else ""
        may_start = self._start is not None and lost is not None and own_s - since_s >= START_AFTER_S
        return Moment(
            self.view,
            self._time.now_s(),
            lost,
            own_s - since_s,
            said or self._light.trouble or self._trouble,
            self._light.brightness,
            self.page,
            may_start=may_start,
            red=self._light.filter.level,
            brightest=self._light.ceiling,
            tested=self._light.tested,
            dark=self._light.darkness.words(own_s),
        )

    def _next_tick_s(self, page: Page) -> float:
        return min(1.0, max(FASTEST_TICK_S, self._time.own_s(page.next_tick_s(self.moment()))))

    # --- what the person does ---

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:  # noqa: ARG002 - any
        """Allow no act of a page while it asks something, and in the dark none that has to be seen."""
        return action in DEEDS_IN_THE_DARK if self.is_black else not self._is_asking

    @property
    def _is_asking(self) -> bool:
        return isinstance(self.screen, Page) and self.screen.is_asking

    def own_s(self, bench_s: float) -> float:
        """Return how long ``bench_s`` seconds of the bench take here [s]: none, where it jumps."""
        own_s = self._time.own_s(bench_s)
        return own_s if isfinite(own_s) else 0.0

    def do(
        self,
        *acts: AnyAct,
        hold_s: float = 0.0,
        press: object = None,
        again: bool = False,
        then: Callable[[], None] | None = None,
    ) -> None:
        """Ask the bench for acts, ``hold_s`` [s] apart, unless it is the same ``press`` still held down."""
        if self._is_held(acts[0] if press is None else press) and not again:
            return
        if any(darkens(act, self.view) for act in acts):
            self.ask(plate_question(lambda: self._do_in_the_dark(*acts, then=then)))
        else:
            asking = self.screen.query(Asking)
            typed = asking.first().answering if asking else None
            self._said = ""
            self.run_worker(self._ask_bench(*acts, hold_s=hold_s, then=then, typed=typed))

    def look_up(
        self,
        question: AnyQuestion,
        then: Callable[[AnyAnswer], None],
        *,
        asks: bool = False,
        quiet: bool = False,
    ) -> None:
        """Ask the book; a later question of the same kind takes the place of one not answered yet."""
        kind = type(question).__name__
        waits = self._keys.fetch() if asks else None
        self.work_alone(kind, self._ask_book(question, then, waits, quiet=quiet))

    def work_alone(self, name: str, work: Coroutine[Any, Any, None]) -> None:
        """Do some work in the place of any other of that name."""
        self.run_worker(work, group=name, exclusive=True)

    def _do_in_the_dark(self, *acts: AnyAct, then: Callable[[], None] | None) -> None:
        self._light.darkness.agree()
        self.run_worker(self._ask_bench(*acts, then=then))

    def say(self, words: str) -> None:
        """Say something of the screen's own for a while."""
        self._said, self._said_at_s = words, self._own_s()
        self.draw()

    def ask(self, question: Question) -> None:
        """Open a question at the foot of the page; a black screen asks nothing that nobody could read."""
        if not self.is_black:
            self._said = ""
            self.screen.query_one(Asking).ask(question)

    async def _ask_book(
        self,
        question: AnyQuestion,
        then: Callable[[AnyAnswer], None],
        waits: object | None,
        *,
        quiet: bool,
    ) -> None:
        page = self.page
        try:
            answer = await self.link.ask(question)
        except Refused as refusal:
            if not quiet:
                self.say(f"No: {refusal.line}")
        else:
            # Nobody may look at that page any more, or want to be asked.
            if self.page == page and (waits is None or self._keys.fetches(waits)):
                then(answer)
                self.draw()
        finally:
            if waits is not None:
                self.post_message(Fetched(waits))

    async def on_fetched(self, fetched: Fetched) -> None:
        """Give the keys that were kept meanwhile to the question that came of it."""
        await self._keys.fetched(fetched.waits)

    async def _ask_bench(
        self,
        *acts: AnyAct,
        hold_s: float = 0.0,
        then: Callable[[], None] | None = None,
        typed: Typed | None = None,
    ) -> None:
        asked_s = self._own_s()
        try:
            *before, last = map(checked, acts)
            asked = []
            for act in before:  # a foot is lifted when it is, not when the book has taken that it came down
                asked.append(asyncio.create_task(self.link.do(act)))
                await asyncio.sleep(hold_s)
            done = self.link.do(last)
            await (asyncio.gather(*asked, done) if asked else done)
        except Refused as refusal:
            at_once = self._own_s() - asked_s < SAME_PRESS_S
            if typed is not None and at_once and not self._is_asking:
                self.ask(typed.question.again(typed.answer, refusal.line))
            else:
                self.say(f"No: {refusal.line}")
        else:
            if then is not None:
                then()

    def _is_held(self, press: object) -> bool:
        now_s = self._own_s()
        before_s = self._pressed.get(press)
        self._pressed = {key: at_s for key, at_s in self._pressed.items() if now_s - at_s < SAME_PRESS_S}
        self._pressed[press] = now_s
        return before_s is not None and now_s - before_s < SAME_PRESS_S

    def turn_to(self, page: PageName) -> None:
        """Turn to a page, without the foot; not under the hands of somebody who is asked something."""
        if page != self.page and not self._is_asking:
            self.page = page
            self._said = ""
            self._turning = self.switch_screen(page)

    # --- the screen itself ---

    async def on_event(self, event: events.Event) -> None:
        """Let a key that finds an idle screen black wake it, and do nothing else."""
        is_input = isinstance(event, events.InputEvent) and not event.is_forwarded
        if is_input and self._light.wakes(self._own_s()):
            self.draw()
            return
        if isinstance(event, events.Key) and not event.is_forwarded and isinstance(self.screen, Page):
            await self._keys.press(event)
        else:
            await super().on_event(event)

    async def _laid_page(self) -> Page:
        """Return the page on top, once it has all its parts: a page that is turned to has none at first."""
        if (turning := self._turning) is not None:
            self._turning = None
            await turning
        return cast("Page", self.screen)

    def _ring(self) -> None:
        if isinstance(self._driver, RedDriver):
            self._driver.ring()

    def _mind_darkness(self) -> None:
        """Change the light where it has to change; put aside what nobody can see in the dark."""
        own_s = self._own_s()
        self._light.blanking.look(self.view, own_s, lost=self._lost is not None)
        if not self._light.mind(own_s):
            return
        self.theme = self._light.theme
        if not self._light.darkness.is_black(own_s):
            return
        for asking in self.screen.query(Asking):
            if asking.question is not None:
                asking.leave()
                self._keys.put_away()
        if isinstance(self.screen, HelpPage):
            self.pop_screen()
        self.turn_to("trays")
        if self.view is not None and self.view.foot_serves != "trays":
            self.do(ServeFoot(to="trays"), again=True)

    def action_help(self) -> None:
        """Open the Help page."""
        self._turning = self.push_screen(HelpPage())

    def action_leave(self) -> None:
        """Leave the screen."""
        self.exit()

    def _handle_exception(self, error: Exception) -> None:
        """Keep the traceback in a file and end, without Textual's own coloured picture of it."""
        self._return_code = 1
        if self._exception is None:
            self._exception = error
            self._exception_event.set()
        self._faults.append(kept(error, self.state))
        self._close_messages_no_wait()

    def _print_error_renderables(self) -> None:
        """Say the first fault in one line."""
        self._exit_renderables.clear()
        if self._faults and not self.is_black:
            self.error_console.print(self._faults[0], markup=False, highlight=False)
            self._faults.clear()


def _loop_s() -> float:
    return asyncio.get_running_loop().time()
