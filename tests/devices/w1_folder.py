"""A folder shaped like the kernel's 1-Wire devices, with one probe whose answer the test writes."""

from firmware_py.devices.onewire import crc8

SERIAL = "28-0123456789ab"


def scratchpad(bath_degC):
    """Return the nine bytes of a probe of family 28 at full resolution."""
    raw = round(bath_degC * 16).to_bytes(2, "little", signed=True)
    eight = raw + bytes([0x4B, 0x46, 0x7F, 0xFF, 0x0C, 0x10])
    return eight + bytes([crc8(eight)])


def w1_slave(fresh, *, verdict="YES", kept=None, thousandths=None):
    """Return the kernel's text for nine bytes; ``kept`` are the bytes it repeats in the second line."""
    kept = fresh if kept is None else kept
    if thousandths is None:
        thousandths = int.from_bytes(kept[:2], "little", signed=True) * 1000 // 16
    spelt = [" ".join(f"{byte:02x}" for byte in nine) for nine in (fresh, kept)]
    return f"{spelt[0]} : crc={fresh[8]:02x} {verdict}\n{spelt[1]} t={thousandths}\n"


class W1Folder:
    """The folder, and the hand that plugs the probe in and out."""

    def __init__(self, path, serial=SERIAL):
        self.device = path / serial
        self.file = self.device / "w1_slave"

    def show(self, bath_degC):
        self.write(w1_slave(scratchpad(bath_degC)))

    def write(self, text):
        self.device.mkdir(exist_ok=True)
        self.file.write_bytes(text.encode("latin-1"))

    def unplug(self):
        self.file.unlink()
        self.device.rmdir()
