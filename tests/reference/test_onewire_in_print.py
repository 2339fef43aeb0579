"""The 1-Wire checksum and scratchpad against the maker's and the kernel's own examples."""

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.devices.onewire import crc8, read_w1_slave


def test_the_checksum_of_the_makers_worked_example():
    """Maxim, Application Note 27, "Understanding and Using Cyclic Redundancy Checks": 02 1C B8 01 -> A2."""
    assert crc8(bytes.fromhex("02 1C B8 01 00 00 00")) == 0xA2


def test_the_power_up_scratchpad_is_known_and_refused():
    """Linux kernel documentation, "Kernel driver w1_therm": 85.00 degC stands for a missing conversion."""
    eight = bytes.fromhex("50 05 4B 46 7F FF 0C 10")
    assert crc8(eight) == 0x1C
    nine = "50 05 4b 46 7f ff 0c 10 1c"
    with pytest.raises(Refused, match="before it has measured"):
        read_w1_slave(f"{nine} : crc=1c YES\n{nine} t=85000\n", "28")
