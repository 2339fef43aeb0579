"""What any foot switch must do, run over every body; and what a real line makes of bouncing contacts."""

import os
import queue
import select

import pytest

from firmware_py.bench.foot import Foot, FootRule
from firmware_py.craft.refusal import Refused
from firmware_py.devices import usb_foot_switch
from firmware_py.devices.clock import BootClock
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.devices.gpio_foot_switch import GpioFootSwitch
from firmware_py.devices.keyed_foot_switch import KeyedFootSwitch
from firmware_py.devices.pins import open_pins
from firmware_py.devices.usb_foot_switch import UsbFootSwitch
from tests.devices.pedals import KEY, OTHER_KEY, UINPUT, FakePedal, KernelPedal

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


class UsbContract(FootSwitchContract):
    """A pedal that the kernel takes for a keyboard, on the clock that the kernel stamps with."""

    __test__ = False

    @pytest.fixture
    def pedal(self):
        raise NotImplementedError

    @pytest.fixture
    def switch(self, pedal):
        self.at_hand = pedal
        switch = self.open()
        yield switch
        switch.close()

    def open(self, **settings):
        return UsbFootSwitch(
            "pedal",
            "/dev/input/pedal",
            BootClock(),
            settle_s=SETTLE_S,
            open_device=self.at_hand.open,
            **settings,
        )

    def now_s(self):
        return BootClock().now_s()

    def move(self, switch, *, down):
        self.at_hand.press(down=down)

    def let_settle(self, switch):
        self.until(lambda: not switch.is_down)

    def until(self, holds):
        deadline_s = self.now_s() + PATIENCE_S
        while not holds():
            assert self.now_s() < deadline_s
            select.select([], [], [], 0.002)

    def test_a_held_key_repeats_and_is_one_press(self, switch):
        hear = self.listen(switch)
        self.at_hand.press(down=True, repeats=3)
        assert hear().down
        self.at_hand.press(down=False)
        assert not hear().down

    def test_unplugged_under_a_foot_it_is_released_and_counts_for_nothing_then_comes_back(
        self, switch, monkeypatch
    ):
        monkeypatch.setattr(usb_foot_switch, "LOOK_AGAIN_S", 0.01)
        hear = self.listen(switch)
        self.at_hand.press(down=True)
        assert hear().down
        self.at_hand.unplug()
        gone = hear()
        assert (gone.down, gone.lost) == (False, True)
        self.until(lambda: not switch.is_there)
        assert not switch.is_down
        self.at_hand.plug_in()
        self.until(lambda: switch.is_there)
        self.at_hand.press(down=True)
        assert hear().down


class TestUsbFootSwitch(UsbContract):
    __test__ = True

    @pytest.fixture
    def pedal(self, monkeypatch):
        # A pipe takes no clock; the events carry the boot clock's time, as the kernel's do.
        monkeypatch.setattr(usb_foot_switch, "_takes_boot_time", lambda device: True)
        return FakePedal()

    def test_it_is_taken_so_that_it_types_nothing_elsewhere(self, switch):
        assert self.at_hand.opened.is_grabbed

    def test_one_that_another_program_has_taken_is_refused(self, switch):
        self.at_hand.has_another_owner = True
        with pytest.raises(Refused, match="another program has it"):
            self.open()

    def test_one_that_is_not_there_at_the_start_is_refused(self, switch):
        self.at_hand.is_plugged_in = False
        with pytest.raises(Refused, match="No such file"):
            self.open()

    def test_only_the_key_that_is_named_counts(self, switch):
        pytest.importorskip("evdev", reason="the library evdev is not installed")
        switch.close()
        named = self.open(key="KEY_B")
        hear = self.listen(named)
        self.at_hand.press(down=True, code=OTHER_KEY)
        self.at_hand.press(down=False, code=OTHER_KEY)
        before_s = self.now_s()
        self.at_hand.press(down=True)
        press = hear()
        named.close()
        assert press.down
        assert press.at_s >= before_s

    def test_a_key_that_no_keyboard_has_is_refused(self, switch):
        pytest.importorskip("evdev", reason="the library evdev is not installed")
        with pytest.raises(Refused, match="no key KEY_PEDAL"):
            self.open(key="KEY_PEDAL")

    def test_when_the_kernel_s_queue_ran_over_the_keys_are_looked_at(self, switch):
        hear = self.listen(switch)
        self.at_hand.down.add(KEY)
        self.at_hand.run_over()
        assert hear().down


@pytest.mark.skipif(not os.access(UINPUT, os.W_OK), reason=f"no {UINPUT} to make a pedal with here")
class TestUsbFootSwitchByTheKernel(UsbContract):
    __test__ = True

    @pytest.fixture
    def pedal(self):
        pedal = KernelPedal()
        yield pedal
        pedal.close()


def test_the_end_of_a_press_whose_switch_was_unplugged_is_no_press():
    foot = Foot(FootRule())
    foot.edge(FootEdge(True, 1.0), long_means=True)
    assert foot.edge(FootEdge(False, 3.0, lost=True), long_means=True) is None
    assert not foot.is_down
