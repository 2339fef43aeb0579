"""The Baths page: its picture, keys, deeds, forms and words."""
