"""What ``bench.toml`` may say, and what it means."""
