"""Everything of Embertray that runs without a screen."""

__version__ = "0.1.0"
