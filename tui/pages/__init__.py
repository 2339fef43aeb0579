"""One file for each full screen."""
