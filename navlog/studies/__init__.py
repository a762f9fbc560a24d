"""Second looks at a log or at many, each with its own text."""
