"""Bringing up a bench: what is asked of the person, measured, and written down."""
