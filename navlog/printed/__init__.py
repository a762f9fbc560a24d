"""A log as printed: rows, events, head and closing, which every sheet shares."""
