"""The Logbook page: its picture, keys, deeds, forms and words."""
