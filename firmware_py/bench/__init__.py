"""The controller: runs, cues and interlocks, told the time and asked what to do."""
