"""What the pages share."""
