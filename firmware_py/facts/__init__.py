"""What is known, each fact declared once: events, acts, views, and their small enumerations."""
