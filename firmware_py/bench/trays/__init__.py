"""The tray line: plates in their trays, step by step, with their cues, marks and urgency."""
