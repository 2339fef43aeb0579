"""The Trays page: its picture, keys, deeds, forms and words."""
