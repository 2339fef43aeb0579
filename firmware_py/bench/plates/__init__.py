"""The book of plates on the bench: boxes, holders, what is loaded where, and what was exposed."""
