"""Notices as a briefer hands them out: many in one text, with other text around them.

Read are the FAA's domestic form (`!MCN 05/552 IFM NAV VOR U/S 2205241348-PERM`), its FDC notices (FAA Order
JO 7930.2) and the ICAO form (Doc 8126, chapter 6). Lines may be broken anywhere, inside words too, as in the form of
69 columns. What is not understood stays, with its words, and says so.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import product

from msgspec import Struct

from navlog.nav.notice_hours import SCHEDULE, hours_among
from navlog.nav.notices import (
    AT_ALL_TIMES,
    AidTold,
    Cancellation,
    Disc,
    Notice,
    NoticeForm,
    Period,
    period_between,
    wrong_times,
)
from navlog.nav.problems import Span
from navlog.nav.record import changed
from navlog.request.notice_matters import (
    AERODROME_SUBJECTS,
    AIRWAY_SUBJECTS,
    AIRWAY_UNREAD,
    KEYWORDS,
    Q_GROUPS,
    other_matter,
    read_aerodrome,
    read_coded_aerodrome,
)
from navlog.request.notice_obstacles import OBSTACLE, OBSTACLE_SUBJECTS, read_position
from navlog.request.notice_routes import read_route_notice
from navlog.request.notice_stations import Taken, read_plain_language, read_station_clause

_START = re.compile(
    r"!(?P<account>[A-Z]{2,5})[ \t]+(?P<cancel>C)?(?P<number>\d{1,2}/\d{3,5})(?!\d)"
    rf"|!(?P<unnumbered>[A-Z]{{3}})(?=[ \t]+[A-Z0-9]{{3,4}}[ \t]+(?:NAV|{'|'.join(KEYWORDS)})\b)"
    r"|^[ \t]*FDC[ \t]+(?P<printed>\d/\d{4})(?=[ \t]+[A-Z0-9]{3,4}\b)"
    r"|^[ \t]*FDC[ \t]+CANCEL[ \t]+(?P<cancelled>\d/\d{4})"
    r"|\(?\b(?P<icao>[A-Z]\d{1,4}/\d{2}|\d{2}/\d{3,4})\s+NOTAM(?P<kind>[NRC])\b"
    r"|^[ \t]*\(?(?P<bare>[A-Z]\d{3,4}/\d{2})(?=\s+Q\))",
    re.MULTILINE,
)
_MOMENT = r"\d{10}"
_PERIOD = re.compile(
    rf"(?:\bWEF )?(?<!\d)(?P<start>{_MOMENT}) ?- ?(?P<end>{_MOMENT}|PERM|UFN) ?(?P<estimated>EST)?(?![A-Z0-9-])"
)
_DAYS = "(?:DLY|DAILY|MON|TUE|WED|THU|FRI|SAT|SUN)"
_SCHEDULE = re.compile(rf"{_DAYS}[A-Z-]*(?:(?:SR|SS|\d{{4}})-(?:SR|SS|\d{{4}})|H24)")
"""Hours within a period, the blanks taken out."""
_NOT_AVAILABLE = re.compile(r"\b(?:NOT|NO [A-Z0-9]+) AVBL $")
_PARTS = re.compile(r"\b(?:END )?PART \d{1,2} OF \d{1,2}\b")
_AN_AID = re.compile(r"\b[DC]?VOR(?:TAC|/DME)?\b|\bDME\b|\bTACAN\b|\b(?:NAVAID|RADIAL)S?\b")

_AID_CODE = re.compile(r"/QN[DMNTV][A-Z]{2}/")
"""Q codes of DME, VOR/DME, TACAN, VORTAC and VOR (FAA JO 7930.2, appendix B; ICAO Doc 8400)."""

_NO_TIMES = f"it gives no times: {AT_ALL_TIMES}"

_MOST_BREAKS = 6
_FULL_LINE = 50
_LONGEST = 10_000
"""Characters of a notice in which lines may be broken inside words; those of security matters are longer."""


class _Chunk(Struct, frozen=True):
    """The text from one notice's beginning to the next, and where it begins."""

    head: re.Match[str]
    text: str
    line: int


def read_notices(text: str, file: str) -> tuple[Notice, ...]:
    """Every notice of a text, in its order, those cancelled or replaced marked; doubles are left out."""
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    found: dict[tuple[str, str], Notice] = {}
    cancels: list[tuple[str, str, str]] = []
    for chunk in _joined_parts(_chunks(plain)):
        span = Span(file, chunk.line)
        notice, cancelled = _icao(chunk, span) if chunk.head["icao"] or chunk.head["bare"] else _domestic(chunk, span)
        # A briefing for several airports repeats its FDC notices; the same name with other words is another one.
        found.setdefault((notice.ident, notice.text), notice)
        if cancelled is not None:
            how = "replaced" if chunk.head["kind"] == "R" else "cancelled"
            cancels.append((cancelled, notice.location, f"{how} by {notice.ident}"))
    return tuple(_voided(one, cancels) for one in found.values())


def _voided(notice: Notice, cancels: list[tuple[str, str, str]]) -> Notice:
    """The notice with what cancels or replaces it, if anything in the same text does."""
    for ident, location, words in cancels:
        # Numbers of the ICAO form are given by each state anew: the two letters of its state must agree.
        same_state = notice.form is not NoticeForm.ICAO or notice.location[:2] == location[:2]
        if ident == notice.ident and same_state and notice.void is None:
            return changed(notice, void=words)
    return notice


def _chunks(text: str) -> Iterator[_Chunk]:
    starts = list(_START.finditer(text))
    line, counted = 1, 0
    for index, head in enumerate(starts):
        end = starts[index + 1].start() if index + 1 < len(starts) else len(text)
        # The pattern may take the blanks of a line before; the notice begins at its first letter.
        begin = head.end() - len(head[0].lstrip())
        line, counted = line + text.count("\n", counted, begin), begin
        yield _Chunk(head, text[head.end() : end], line)


def _joined_parts(chunks: Iterator[_Chunk]) -> Iterator[_Chunk]:
    """The chunks, with the parts of one notice (`PART 2 OF 3`) put together."""
    held: _Chunk | None = None
    for chunk in chunks:
        part = re.search(r"\bPART (\d{1,2}) OF \d{1,2}\b", chunk.text[:120])
        # Only with the same head just before: parts of two notices may stand interleaved, and must not be mixed.
        follows = (
            part is not None and part[1] != "1" and held is not None and held.head[0].split() == chunk.head[0].split()
        )
        if follows and held is not None:
            held = _Chunk(held.head, f"{held.text} {_PARTS.sub('', chunk.text)}", held.line)
            continue
        if held is not None:
            yield held
        held = chunk
    if held is not None:
        yield held


def _readings(text: str, before: int) -> Iterator[str]:
    """The text on one line, in each way that its broken lines may go on: with a blank between, or inside a word.

    Only after a full line can a word be broken; the plain way comes first. `before` are the characters of the
    notice's name, which stand in front of the first line.
    """
    lines = text.split("\n")
    while lines and not lines[-1].strip():
        lines.pop()
    doubtful = [
        index
        for index, line in enumerate(lines[:-1])
        if len(text) <= _LONGEST
        and len(line) + (before if index == 0 else 0) >= _FULL_LINE
        and line[-1:] != " "
        and lines[index + 1][:1].strip()
    ]
    # Each break doubles the readings: 64 are tried, and one more in which every one is inside a word.
    tried = doubtful[:_MOST_BREAKS]
    for glued in product((False, True), repeat=len(tried)):
        inside = {index for index, one in zip(tried, glued, strict=True) if one}
        joined = "".join(line if index in inside else f"{line} " for index, line in enumerate(lines))
        yield " ".join(joined.split())
    if len(doubtful) > len(tried):
        yield " ".join(
            "".join(line if index in set(doubtful) else f"{line} " for index, line in enumerate(lines)).split()
        )


def _domestic(chunk: _Chunk, span: Span) -> tuple[Notice, str | None]:
    """A notice of the domestic form, and the name of the one that it cancels."""
    head = chunk.head
    form = NoticeForm.FDC if head["account"] == "FDC" or head["printed"] or head["cancelled"] else NoticeForm.DOMESTIC
    number = head["number"] or head["printed"] or head["cancelled"]
    account = "FDC" if form is NoticeForm.FDC else head["account"] or head["unnumbered"]
    ident = f"!{account} {number}" if number is not None else f"!{account}"
    if head["cancel"] or head["cancelled"]:
        notice = Notice(
            f"!{account} {head['cancel'] or 'CANCEL '}{number}", form, account, _first_line(chunk.text), span
        )
        return changed(notice, effects=(Cancellation(ident),)), ident
    best: Notice | None = None
    tells_hours = _SCHEDULE.search("".join(chunk.text.split())) is not None
    for reading in _readings(_paragraph(chunk.text), len(head[0])):
        notice = _domestic_reading(reading, ident, form, span)
        # A reading with a period is nearer to the truth, though its words are not understood either.
        if best is None or (best.period.start is None and notice.period.start is not None):
            best = notice
        if notice.unread is None and notice.period.start is not None:
            # Of hours within the period, too, a line may break inside a word or a number.
            whole = not tells_hours or re.search(_DAYS, notice.schedule or "") is not None
            if best.unread is not None or best.period.start is None or whole:
                best = notice
            if whole:
                break
    assert best is not None
    cancels = re.search(r"\bCANCEL(?:LED|S|ED)? (?:FDC )?(\d/\d{4})\b", best.text)
    if cancels is None or form is not NoticeForm.FDC:
        return best, None
    effect = Cancellation(f"!FDC {cancels[1]}")
    if re.match(rf"{re.escape(ident)} \S+ CANCEL", best.text) is not None:
        return changed(best, ident=f"{ident} CANCEL", effects=(effect,), unread=None), effect.ident
    return changed(best, effects=(*best.effects, effect)), effect.ident


def _paragraph(text: str) -> str:
    """The text up to the blank line after which something else stands."""
    return re.split(r"\n[ \t]*\n", text, maxsplit=1)[0]


def _first_line(text: str) -> str:
    return " ".join(text.strip().split("\n", 1)[0].split())


def _domestic_reading(text: str, ident: str, form: NoticeForm, span: Span) -> Notice:
    """The notice by one way of joining its lines."""
    text = re.sub(r"^\([A-Z]{4} [A-Z]\d{1,4}/\d{2}\) ?", "", text)
    matches = list(_PERIOD.finditer(text))
    # Of parts put together each has the period; what stands after the last of them is other text.
    period, body = Period(), text
    if matches:
        last = matches[-1] if _PARTS.search(text) else matches[0]
        period = period_between(last["start"], last["end"], estimated=last["estimated"] is not None)
        body = _PARTS.sub("", _PERIOD.sub("", text[: last.end()]))
    body = " ".join(body.split())
    location, _, rest = body.partition(" ")
    taken = _subject(re.sub(r"^(?:[A-Z]{2} ?\.\. ?)+", "", rest), location)
    # Understood but for its hours, it counts at all of them, and says so.
    if taken.unread is None and period.start is None:
        wrong = None if not matches else wrong_times(last["start"], last["end"])
        taken = Taken(taken.effects, wrong or _NO_TIMES)
    schedule = _schedule(body)
    shown = " ".join(f"{ident} {text[: matches[-1].end()] if matches else text}".split())
    return Notice(ident, form, location, shown, span, period, taken.effects, taken.unread, None, schedule or None)


def _schedule(body: str) -> str:
    """The hours at the end of a notice, with what limits them before and after; empty where there are none."""
    found = SCHEDULE.search(body)
    if found is None:
        return ""
    # Fuel that is `NOT AVBL DLY 0100-1400` is not to be had then; `AVBL DLY 0100-1400` limits it to them.
    words = body[: found.start()]
    before = re.search(r"\b(?:EXC|EXCEPT|EXCP|NOT|AVBL|ONLY) $", words) if not _NOT_AVAILABLE.search(words) else None
    return body[before.start() if before is not None else found.start() :]


def _subject(text: str, location: str) -> Taken:
    """What a notice means, by the keyword that it begins with."""
    keyword, _, rest = text.partition(" ")
    # Filed under `QHB/QEL`, it is of each of them, or of one at the other: that is for the pilot to read.
    if "/" in location and keyword not in ("ROUTE", "OBST"):
        return Taken(unread="it is filed under more than one place")
    if keyword == "NAV":
        return read_station_clause(rest.removesuffix(_schedule(rest)).strip(), location)
    if keyword == "ROUTE":
        return read_route_notice(rest)
    if keyword == "AD":
        return read_aerodrome(text.removesuffix(_schedule(text)), (location,))
    if keyword.rstrip(".,:") in KEYWORDS:
        return other_matter(KEYWORDS[keyword.rstrip(".,:")], text, (location,))
    return Taken(unread="its subject is not known")


def _icao(chunk: _Chunk, span: Span) -> tuple[Notice, str | None]:
    """A notice of the ICAO form, and the name of the one that it replaces or cancels."""
    ident = chunk.head["icao"] or chunk.head["bare"]
    after = (
        re.match(r"\s+([A-Z]\d{1,4}/\d{2}|\d{2}/\d{3,4})\b", chunk.text) if chunk.head["kind"] in ("R", "C") else None
    )
    best: Notice | None = None
    begun = after.end() if after is not None else 0
    for reading in _readings(_icao_text(chunk.text[begun:]), len(chunk.head[0]) + begun):
        notice = _icao_reading(reading, ident, chunk.head["kind"], span)
        if best is None:
            best = notice
        if notice.unread is None:
            best = notice
            break
    assert best is not None
    if after is not None and chunk.head["kind"] == "C":
        best = changed(best, effects=(Cancellation(after[1]),), unread=None)
    return best, None if after is None else after[1]


def _icao_text(text: str) -> str:
    """The text of the items alone: to the bracket that closes the notice, a line of its making, or a blank line."""
    kept = re.split(r"\n[ \t]*(?:CREATED:|SOURCE:)|\n[ \t]*\n", text.lstrip("\n"), maxsplit=1)[0].rstrip()
    # The item letters, `E)`, close brackets that nothing opened.
    opened, closed = kept.count("("), kept.count(")") - len(re.findall(r"(?:^|\s)[QA-G]\)", kept))
    return kept[:-1] if kept.endswith(")") and closed > opened else kept


def _icao_reading(text: str, ident: str, kind: str | None, span: Span) -> Notice:
    """The notice by one way of joining its lines."""
    name = f"{ident} NOTAM{kind}" if kind is not None else ident
    items = _items(text)
    shown = f"{name} {text}"
    if items is None:
        location = re.search(r"\bA\)\s*([A-Z]{4})\b", text)
        place = location[1] if location is not None else ""
        cut_short = AidTold(circle=_circle(text)) if _AID_CODE.search(text) is not None else None
        missing = "its items A, B and E are not all there"
        return Notice(ident, NoticeForm.ICAO, place, shown, span, unread=missing, aid=cut_short)
    location_text = items["A"]
    period, told = _icao_period(items["B"], items.get("C"))
    taken = _item_e(items["E"], location_text, items.get("Q", ""))
    among = hours_among(items["E"].upper())
    if among is not None and taken.unread is not None:
        # Without its hours it counts at all of them, which is never too little.
        timeless = _item_e(among[1], location_text, items.get("Q", ""))
        taken = timeless if timeless.unread is None or timeless.aid is not None else taken
    moments = re.findall(rf"(?<!\d){_MOMENT}(?!\d)", f"{items['B']} {items.get('C', '')}")
    wrong = wrong_times(moments[0], moments[1] if len(moments) > 1 else "PERM") if moments else None
    aid = _aid(items["E"], items.get("Q", ""), taken) if taken.unread is not None else None
    unread = taken.unread or (None if told else wrong or _NO_TIMES)
    hours = items.get("D") or (f"{among[0]} in item E" if among is not None else None)
    return Notice(ident, NoticeForm.ICAO, location_text, shown, span, period, taken.effects, unread, None, hours, aid)


def _aid(text: str, qualifiers: str, taken: Taken) -> AidTold | None:
    """The VOR or DME that an item E not understood tells by name, frequency or place; None where it is of none."""
    if _AN_AID.search(text) is None and _AID_CODE.search(qualifiers) is None:
        return None
    frequency = re.search(r"\b1[01]\d\.\d{1,3}\b", text)
    frequency_mhz = float(frequency[0]) if frequency is not None else None
    return changed(taken.aid or AidTold(), frequency_mhz=frequency_mhz, circle=_circle(qualifiers), words=text.upper())


def _items(text: str) -> dict[str, str] | None:
    """The items by their letters, each up to the next in order; None where A, B or E is missing."""
    places: list[tuple[str, int, int]] = []
    done = 0
    for letter in "QABCDEFG":
        # A letter of a list within item E is taken for none: F is looked for only with the G that follows it.
        pattern = r"(?:^|\s)F\)\s*(?=.*\sG\))" if letter == "F" else rf"(?:^|\s){letter}\)\s*"
        match = re.compile(pattern).search(text, done)
        if match is not None and not (
            letter in "CD" and (e := re.compile(r"\sE\)").search(text, done)) and e.start() < match.start()
        ):
            places.append((letter, match.start(), match.end()))
            done = match.end()
    ends = [*(start for _, start, _ in places[1:]), len(text)]
    found = {letter: text[begin:end].strip() for (letter, _, begin), end in zip(places, ends, strict=False)}
    return found if found.keys() >= {"A", "B", "E"} else None


def _icao_period(start: str, end: str | None) -> tuple[Period, bool]:
    """Items B and C, or both as a briefing has them, `FROM: 23/05/09 10:21 TO: ...`; and whether they are told."""
    together = re.fullmatch(
        r"FROM: (\d\d)/(\d\d)/(\d\d) (\d\d):(\d\d) +TO: (?:(PERM|UFN)|(\d\d)/(\d\d)/(\d\d) (\d\d):(\d\d))( EST)?", start
    )
    if together is not None:
        told = together.groups()
        last = told[5] or "".join(told[6:11])
        period = period_between("".join(told[:5]), last, estimated=told[11] is not None)
        return period, period.start is not None
    first = re.fullmatch(_MOMENT, start)
    until = re.fullmatch(rf"({_MOMENT}|PERM|UFN) ?(EST|PERM)?", end or "PERM")
    if first is None or until is None:
        return Period(), False
    period = period_between(start, until[1], estimated=until[2] == "EST")
    return period, period.start is not None and (period.end is not None or until[1] in ("PERM", "UFN"))


def _circle(qualifiers: str) -> Disc | None:
    """The circle at the end of a Q line, `3944N10806W005`: its middle in whole minutes, and its radius."""
    told = re.search(r"/ ?(\d{4}[NS])(\d{5}[EW])(\d{3})\b", qualifiers)
    middle = read_position(told[1], told[2]) if told is not None else None
    return Disc(middle, float(told[3])) if told is not None and middle is not None else None


def _item_e(text: str, location: str, qualifiers: str) -> Taken:
    """What item E means: the FAA's own words behind an identifier, or plain language by the Q code's subject."""
    told = re.match(r"(?:/(?P<slashed>[A-Z0-9]{2,4})/ |(?P<plain>[A-Z0-9]{3}) )?(?=NAV )", text)
    own = re.match(r"[KP]([A-Z0-9]{3})(?: |$)", location)
    if told is not None:
        ident = told["slashed"] or told["plain"] or (own[1] if own is not None else None)
        if ident is not None:
            return _subject(text[told.end() :], ident)
    code = re.search(r"(?:^|/)Q([A-Z])([A-Z])([A-Z]{2})(?:/|$)", qualifiers)
    group = code[1] if code is not None else None
    airports = tuple(location.split())
    if code is not None and code[1] + code[2] in AERODROME_SUBJECTS:
        return read_coded_aerodrome(text, airports, code[3])
    if code is not None and code[1] + code[2] in AIRWAY_SUBJECTS:
        return Taken(unread=AIRWAY_UNREAD)
    circle = _circle(qualifiers)
    if group in Q_GROUPS:
        subject = OBSTACLE if code is not None and code[1] + code[2] in OBSTACLE_SUBJECTS else Q_GROUPS[group]
        return other_matter(subject, text, airports, circle)
    if group == "N" and code is not None and code[2] in "BLX":
        # NB: a non-directional beacon; NL: a locator; NX: a direction finder.
        return other_matter("a beacon", text)
    # Q codes are sometimes wrong: what speaks of an aid is read as one, whatever its code says.
    if group == "N" or _AN_AID.search(text) is not None:
        return read_plain_language(text)
    return other_matter(KEYWORDS.get(text.partition(" ")[0], Q_GROUPS["O"]), text, airports, circle)
