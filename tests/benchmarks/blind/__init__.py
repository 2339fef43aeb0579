"""Boxes of unknown plates, and the workers who try them: shares no code with the craft."""
