"""Stretches to legs: a route and its conditions become a log, without findings."""
