"""Names to stretches: a flight as asked for becomes a route that can be flown."""
