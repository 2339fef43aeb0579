"""Everything around the program: wiring, service units, udev rules, boot settings."""
