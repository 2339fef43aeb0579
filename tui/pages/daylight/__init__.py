"""The Daylight page: its picture, keys, deeds, forms and words."""
