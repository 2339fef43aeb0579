"""The real switchboard and controller on an emulated board's own pins, killed and frozen; run by hand."""
