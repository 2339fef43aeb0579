"""The Help page: its picture, keys, deeds, forms and words."""
