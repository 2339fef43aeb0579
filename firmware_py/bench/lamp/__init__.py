"""The printing lamp: sheets under it, exposures by foot, strips, programs, and what became of each."""
