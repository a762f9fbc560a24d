"""Rules over a computed log: what is unwise about a flight, or worth a look."""
