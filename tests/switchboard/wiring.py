"""The bench that the switchboard's own tests are wired to: mock pins that leave a record."""

from firmware_py.switchboard.commands import Configure, RelayWiring

LAMP_PIN, SAFELIGHT_PIN = 17, 22

LAMP = RelayWiring("printing-lamp", LAMP_PIN, ceiling_s=600.0, continuous=False)
SAFELIGHT = RelayWiring("safelight", SAFELIGHT_PIN, active_high=False)


def configure(record, *, silence_s=1.0, pins="mock"):
    return Configure((LAMP, SAFELIGHT), pins, str(record) if record else None, silence_s)
