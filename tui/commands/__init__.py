"""The commands of `embertray`."""
