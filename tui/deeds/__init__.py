"""What the keys of each page do."""
