"""What a session plays on: the folder of a bench, its real processes, the water, the pedal, the terminal."""
