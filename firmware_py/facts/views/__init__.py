"""What the bench shows: plain facts at one moment."""
