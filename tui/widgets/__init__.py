"""One file for each thing that stands on a page."""
