"""The Plates page: its picture, keys, deeds, forms and words."""
