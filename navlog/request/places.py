"""The places for which a file accepts rules, held against what its flights write down."""

from __future__ import annotations

from navlog.request.records import BrokenFlight, FlightPlans, Name, Request


def unwritten(plans: FlightPlans) -> tuple[Name, ...]:
    """The places of acceptances that no flight of the file writes down; its routes may pass them all the same.

    None where not all flights of the file are there, or could be read.
    """
    requests = [one for one in plans.flights if isinstance(one, Request)]
    if plans.partial or any(isinstance(one, BrokenFlight) for one in plans.flights):
        return ()
    asked = {
        name.span: name
        for one in requests
        for accepted in one.accepted
        if accepted.part
        for name in accepted.part.names
    }
    if not asked:
        return ()
    written = {"DCT", *(word for one in requests for word in route_words(one))}
    return tuple(name for name in asked.values() if name.ident not in written)


def route_words(request: Request) -> list[str]:
    """The identifiers of the route line and of the ways to alternates, and what stands in place of one."""
    ways = (request.route, *((*((way.start,) if way.start else ()), *way.words) for way in request.alternates))
    return [word.ident or word.text for way in ways for word in way]
