"""The wiring as data (`pins.toml`), and the pictures that are drawn from it."""
