"""What the pilot hands in - route file, aircraft file, bulletin - read to a request."""
