"""The trade's arithmetic: pure functions; no clock, no files, no devices."""
