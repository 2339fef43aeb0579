"""The small process that alone owns the relays, and the link to it."""
