"""Makes those parts of the manual that the code knows better than any writer."""
