"""Which side of the knee page holds what: notes, drawings, what is asked for by name."""

from __future__ import annotations

import pytest
from helpers.drawn import report, reports
from helpers.flown import changed
from helpers.ruled import Ruled

from navlog.sheets import pdf
from navlog.sheets.pages import PAGES, Page
from navlog.sheets.pdf_front import Panel

pytest.importorskip("reportlab", reason="the extra `pdf` is not installed")


def noted(many: int) -> str:
    """A flight of few rows with so many long notes: six leave the back no half a side, twelve take two sides."""
    return changed() + "".join(f'note "{number} {"word " * 60}"\n' for number in range(many))


def sides(text: str, monkeypatch: pytest.MonkeyPatch, *names: str) -> Ruled:
    """What stands on the sides of a flight's half-letter pages."""
    papers: list[Ruled] = []

    def paper(page: Page) -> Ruled:
        papers.append(Ruled(page))
        return papers[-1]

    monkeypatch.setattr(pdf, "Paper", paper)
    pdf.document(reports(text), PAGES["half-letter"], names)
    return papers[0]


def test_a_note_that_the_front_holds_is_not_on_the_back(monkeypatch: pytest.MonkeyPatch) -> None:
    paper = sides(changed() + 'note "call the field"\n', monkeypatch)
    assert [sum("call the field" in text for text in side) for side in paper.sides] == [1, 0]


def test_the_file_is_titled_by_its_flights() -> None:
    raw = pdf.document([report("marsh")], PAGES["half-letter"])
    assert b"/Title (VOR navigation log: Round the marsh)" in raw


@pytest.mark.parametrize(
    ("notes", "names", "many", "side"),
    [
        pytest.param(0, (), 2, 2, id="below the lines of a back that leaves half a side"),
        pytest.param(0, ("drawings",), 2, 2, id="there too where they are asked for"),
        pytest.param(6, (), 2, None, id="nowhere without room"),
        pytest.param(6, ("drawings",), 3, 3, id="on a side of their own where they are asked for"),
        pytest.param(12, (), 4, 4, id="on the empty side behind an odd number, which costs no sheet"),
    ],
)
def test_where_the_drawings_stand(
    notes: int, names: tuple[str, ...], many: int, side: int | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    paper = sides(noted(notes), monkeypatch, *names)
    assert len(paper.sides) == many
    assert paper.drawn == ([] if side is None else [side, side])


def test_pieces_fill_a_side_to_its_foot() -> None:
    paper = Ruled()
    room = pdf._whole(paper)
    fitting = [Panel((room - 0.5) / 4.0, lambda top: None)] * 5
    assert [len(side.placed) for side in pdf._paginated(paper, fitting)] == [4, 1]
    over = [Panel((room + 0.5) / 4.0, lambda top: None)] * 4
    assert [len(side.placed) for side in pdf._paginated(paper, over)] == [3, 1]
