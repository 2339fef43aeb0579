"""What any foot switch must do, run over every body; and what a real line makes of bouncing contacts."""

import queue

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import BootClock
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.devices.gpio_foot_switch import GpioFootSwitch
from firmware_py.devices.keyed_foot_switch import KeyedFootSwitch
from firmware_py.devices.pins import open_pins

SETTLE_S = 0.01
PATIENCE_S = 20.0


class FootSwitchContract:
    """Every press and release once, with its moment; what is down at the start is not heard."""

    @pytest.fixture
    def switch(self):
        """Yield a switch that is up."""
        raise NotImplementedError

    def move(self, switch, *, down):
        """Move the contact."""
        raise NotImplementedError

    def now_s(self):
        raise NotImplementedError

    def listen(self, switch):
        """Listen; return the function that gives the next edge."""
        edges: queue.Queue[FootEdge] = queue.Queue()
        switch.listen(edges.put)
        return lambda: edges.get(timeout=PATIENCE_S)

    def test_a_press_and_a_release_are_told_with_their_moments(self, switch):
        hear = self.listen(switch)
        before_s = self.now_s()
        self.move(switch, down=True)
        after_s = self.now_s()
        press = hear()
        assert press.down
        assert before_s <= press.at_s <= after_s
        assert switch.is_down
        self.move(switch, down=False)
        release = hear()
        assert not release.down
        assert release.at_s >= after_s
        assert not switch.is_down

    def test_a_switch_down_at_the_start_is_not_heard_until_it_was_released(self, switch):
        self.move(switch, down=True)
        hear = self.listen(switch)
        assert switch.is_down
        self.move(switch, down=False)
        self.let_settle(switch)
        self.move(switch, down=True)
        edge = hear()
        assert edge.down

    def test_after_closing_nothing_is_told(self, switch):
        told: list[FootEdge] = []
        switch.listen(told.append)
        switch.close()
        switch.close()
        assert told == []

    def let_settle(self, switch):
        """Wait until the switch knows that it is up."""


class TestKeyedFootSwitch(FootSwitchContract):
    @pytest.fixture
    def switch(self):
        self.moves = 0
        return KeyedFootSwitch("pedal")

    def now_s(self):
        return float(self.moves)

    def move(self, switch, *, down):
        self.moves += 1
        switch.move(down=down, at_s=self.now_s())

    def test_a_key_that_repeats_is_one_press(self, switch):
        told: list[FootEdge] = []
        switch.listen(told.append)
        for at_s in (1.0, 1.5, 1.6):
            switch.move(down=True, at_s=at_s)
        assert told == [FootEdge(True, 1.0)]


class TestGpioFootSwitch(FootSwitchContract):
    @pytest.fixture
    def switch(self):
        self.pins = open_pins("mock")
        switch = GpioFootSwitch("pedal", 5, self.pins, BootClock(), settle_s=SETTLE_S)
        yield switch
        switch.close()

    def now_s(self):
        return BootClock().now_s()

    def move(self, switch, *, down):
        pin = self.pins.factory.pin(5)
        (pin.drive_low if down else pin.drive_high)()

    def let_settle(self, switch):
        deadline_s = self.now_s() + PATIENCE_S
        while switch.is_down:
            assert self.now_s() < deadline_s

    def test_bouncing_contacts_are_one_press_at_the_first_touch(self, switch):
        hear = self.listen(switch)
        before_s = self.now_s()
        self.move(switch, down=True)
        after_s = self.now_s()
        for down in (False, True, False, True):
            self.move(switch, down=down)
        press = hear()
        assert before_s <= press.at_s <= after_s
        self.move(switch, down=False)
        assert not hear().down

    def test_a_second_owner_of_the_line_is_refused(self, switch):
        with pytest.raises(Refused, match="pin 5 for foot switch 'other'"):
            GpioFootSwitch("other", 5, self.pins, BootClock())
