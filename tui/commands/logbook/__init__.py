"""``embertray logbook``: one file for each thing that can be done with the book, loaded when asked for."""
