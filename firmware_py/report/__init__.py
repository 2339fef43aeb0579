"""What the book holds, told once: the same lines for the screen, the command line and the sheet."""
