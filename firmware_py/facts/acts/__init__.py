"""What a person asks of the bench."""
