"""How the observer sees: pins, book, processes and files, each read by code of its own."""
