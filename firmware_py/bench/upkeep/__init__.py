"""What is kept in order besides runs and prints: baths, open plates and the light on them."""
