"""An invented season of an invented photographer, through the real fold: nothing of it ever happened."""
