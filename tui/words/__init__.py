"""What the screen says: plain text from plain facts, no widget in sight."""
