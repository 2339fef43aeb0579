"""What stands on the bench: one Protocol for each kind of device, and its bodies."""
