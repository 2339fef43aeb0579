"""The simulated bench: its water, its faults, and the script that plays the person."""
