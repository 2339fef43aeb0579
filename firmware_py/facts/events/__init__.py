"""What happened: the entries of the journal, past tense, never changed once released."""
