"""What the machine itself allows: the same deadlines met by a real-time process that does nothing else.

``python -m tests.benchmarks.bare_timer`` reads one duration [s] a line and prints the error of each [s].
Where a hypervisor takes the cores away, or a kernel that can not be preempted holds them, this floor rises,
and no program of this machine can do better.
"""

import gc
import random
import select
import sys

from firmware_py.switchboard.realtime import BootTimer, boot_now_s, lock_memory, take_priority
from firmware_py.switchboard.station import SPIN_S


def rests_s():
    """Yield the rest [s] after each pulse, never twice the same.

    With equal ones the pulses would keep step with whatever comes at fixed times, such as a hypervisor's
    share of the processor, dealt out ten times a second, and meet it always or never.
    """
    chance = random.Random(1)
    while True:
        yield chance.uniform(0.005, 0.025)


def error_s(timer, poll, for_s):
    """Return how late a deadline ``for_s`` [s] from now was met."""
    began_s = boot_now_s()
    timer.arm(began_s + for_s - SPIN_S)
    poll.poll()
    while boot_now_s() < began_s + for_s:
        pass
    return boot_now_s() - began_s - for_s


def main():
    """Measure and print."""
    planned_s = [float(line) for line in sys.stdin]
    take_priority()
    lock_memory()
    gc.disable()
    timer, poll = BootTimer(), select.poll()
    poll.register(timer.fd, select.POLLIN)
    errors_s = []
    for for_s, rest_s in zip(planned_s, rests_s(), strict=False):
        errors_s.append(error_s(timer, poll, for_s))
        timer.arm(boot_now_s() + rest_s)
        poll.poll()
    sys.stdout.write("".join(f"{each!r}\n" for each in errors_s))


if __name__ == "__main__":
    main()
