"""The rules that keep people, plates and the house safe: one watcher a file, each with its limits on top."""
