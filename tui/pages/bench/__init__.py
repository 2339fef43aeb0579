"""The Bench page: its picture, keys, deeds, forms and words."""
