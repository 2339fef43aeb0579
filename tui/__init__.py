"""The red screen and the command line."""
