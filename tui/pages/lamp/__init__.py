"""The Lamp page: its picture, keys, deeds, forms and words."""
