"""The questions of the pages, and the acts that follow from the answers."""
