"""The append-only book of what happened, and what can be read out of it."""
