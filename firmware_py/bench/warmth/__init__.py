"""Warmth: thermometers that are believed or not, and the heater of the water jacket."""
