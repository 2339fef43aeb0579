"""The manual, and what makes its tables."""
