"""Lines to statements, and statements to a `Tree`: indentation, keywords, flights, what is given twice."""

from __future__ import annotations

from collections.abc import Hashable

from navlog.nav.problems import NavlogError, Problem, Span
from navlog.nav.record import changed
from navlog.nav.spelling import suggestion
from navlog.request.cursor import MOST_PROBLEMS, Cursor
from navlog.request.lexer import TextLine, read_line, split_lines
from navlog.request.statements import STATEMENTS, scope_keys
from navlog.request.tree import FlightBlock, Statement, Tree, Word


def parse(text: str, file: str) -> Tree:
    """The statements of a route file, each with its value and place, and every problem in it.

    Never raises for what a user may have typed: a statement that cannot be read has no value and its
    problems are kept beside the statements of its scope.
    """
    lines = split_lines(text.removeprefix("\ufeff"))
    parser = _Parser(file, lines)
    for number, line in enumerate(lines, start=1):
        read = read_line(line, number, file)
        if read is not None:
            parser.add(read)
            # A file of another kind is wrong in every line; the first hundreds say so.
            if parser.problem_count > MOST_PROBLEMS:
                parser.give_up(number)
                break
    return parser.tree()


def parse_statement(keyword: str, text: str, file: str) -> tuple[Statement, tuple[Problem, ...]]:
    """One statement whose keyword is not written in `text`, such as the value of a command's option."""
    lines = split_lines(text)
    span = Span(file, 1, 1, max(1, len(lines[0])))
    read = [line for n, one in enumerate(lines, start=1) if (line := read_line(one, n, file))]
    words = tuple(word for line in read for word in line.words)
    problems = [problem for line in read for problem in line.problems]
    statement = _statement(Word(keyword, span), words, problems)
    return statement, _with_text(problems, file, lines)


class _Scope:
    """The common part or one flight while it is read."""

    def __init__(self, name: str | None, span: Span) -> None:
        self.name = name
        self.span = span
        self.statements: list[Statement] = []
        self.problems: list[Problem] = []
        self._lines_by_key: dict[Hashable, int] = {}

    def add(self, statement: Statement) -> None:
        """Keeps a statement, with a problem when the scope has it already."""
        self.statements.append(statement)
        for key in scope_keys(statement):
            # By line, since one statement may name a key twice and is then told by its own reader.
            line = self._lines_by_key.setdefault(key, statement.span.line)
            if line != statement.span.line:
                self.problems.append(_twice(statement, line))
                return


class _Parser:
    """Gathers lines into statements and statements into scopes."""

    def __init__(self, file: str, lines: tuple[str, ...]) -> None:
        self.file = file
        self.lines = lines
        self.common = _Scope(None, Span(file, 1))
        self.scopes = [self.common]
        self._pending: list[TextLine] = []
        self._meant = ""
        self._loose: list[Problem] = []
        self._names: dict[str, int] = {}
        self._earlier_problems = 0
        self._cut = False

    def add(self, line: TextLine) -> None:
        """Takes the next line: one that goes on with the statement above, or a new statement."""
        if not line.words:
            self._loose += line.problems
        # What stands below `flight` is indented by custom, and begins statements of its own.
        elif self._pending and line.indent > self._pending[0].indent and self._meant != "flight":
            self._pending.append(line)
        else:
            self._close()
            self._pending = [line]
            self._meant = _keyword_meant(line.words[0])

    @property
    def problem_count(self) -> int:
        """How many problems were found so far."""
        return self._earlier_problems + len(self.scopes[-1].problems)

    def give_up(self, number: int) -> None:
        """Note that the file is not read on after line `number`."""
        self._cut = True
        message = f"more than {MOST_PROBLEMS} problems; the file is not read on from here"
        self.common.problems.append(Problem("too-many-problems", message, Span(self.file, number)))

    def tree(self) -> Tree:
        """What was gathered."""
        self._close()
        return Tree(
            self.file,
            self.lines,
            tuple(self.common.statements),
            tuple(
                FlightBlock(
                    scope.name or "",
                    scope.span,
                    tuple(scope.statements),
                    _with_text(scope.problems, self.file, self.lines),
                )
                for scope in self.scopes[1:]
            ),
            _with_text(self.common.problems, self.file, self.lines),
            self._cut,
        )

    def _close(self) -> None:
        """Reads the statement that the pending lines make up."""
        words: tuple[Word, ...] = ()
        problems: list[Problem] = []
        for line in self._pending:
            words += line.words
            problems += line.problems
        if words:
            # Read as what was meant, so that one slip in a keyword doesn't hide the slips behind it.
            keyword = changed(words[0], text=self._meant)
            if words[0].quoted or words[0].text != self._meant:
                problems.append(_unknown_keyword(words[0], self._meant))
            if self._meant == "flight":
                self._open_flight(keyword, words[1:], problems)
            elif self._meant:
                # A misspelt statement is kept without a value, so that the flight does not seem to lack it.
                self.scopes[-1].add(_statement(keyword, words[1:], problems))
            if self._meant != "flight":
                self.scopes[-1].problems += _few(problems, words[0])
        self.scopes[-1].problems += self._loose
        self._pending, self._loose = [], []

    def _open_flight(self, keyword: Word, words: tuple[Word, ...], problems: list[Problem]) -> None:
        form = STATEMENTS[keyword.text]
        cursor = Cursor(keyword, words, form.example)
        name = ""
        try:
            name = str(form.read(cursor))
            cursor.finish()
        except NavlogError as error:
            cursor.problems += error.problems
        scope = _Scope(name, keyword.span)
        scope.problems += problems or cursor.problems
        line = self._names.setdefault(name, keyword.span.line)
        if name and line != keyword.span.line:
            message = f'the flight "{name}" is in line {line} already'
            scope.problems.append(Problem("given-twice", message, words[0].span, "give it another name"))
        self._earlier_problems += len(self.scopes[-1].problems)
        self.scopes.append(scope)


def _few(problems: list[Problem], keyword: Word) -> list[Problem]:
    """The first problems of a statement, and that there are more, where they are too many."""
    if len(problems) <= MOST_PROBLEMS:
        return problems
    message = f"more than {MOST_PROBLEMS} problems; `{keyword.text}` is not read on"
    return [*problems[:MOST_PROBLEMS], Problem("too-many-problems", message, keyword.span)]


def _keyword_meant(word: Word) -> str:
    """The keyword that `word` is or was most likely meant to be; empty when none is near."""
    return word.text if word.text in STATEMENTS else suggestion(word.text, STATEMENTS) or ""


def _statement(keyword: Word, words: tuple[Word, ...], problems: list[Problem]) -> Statement:
    """The statement with its value; what is wrong with it is added to `problems`.

    Where the lines themselves are faulty, their words say little and are not read.
    """
    value = None
    if not problems:
        form = STATEMENTS[keyword.text]
        cursor = Cursor(keyword, words, form.example)
        try:
            value = form.read(cursor)
            cursor.finish()
        except NavlogError as error:
            cursor.problems += error.problems
        problems += cursor.problems
    return Statement(keyword.text, words, None if problems else value, keyword.span)


def _unknown_keyword(word: Word, meant: str) -> Problem:
    hint = f"did you mean `{meant}`?" if meant else "a line that goes on with the one above is indented deeper"
    return Problem("unknown-keyword", f"`{word.text}` is no keyword; misspelt?", word.span, hint)


def _twice(statement: Statement, line: int) -> Problem:
    form = STATEMENTS[statement.keyword]
    named = statement.words[0] if statement.words and (form.is_named or form.adds) else None
    what = f"{statement.keyword} {named.text}" if named else statement.keyword
    return Problem(
        "given-twice",
        f"`{what}` is in line {line} already",
        named.span if named else statement.span,
        "delete one of them",
    )


def _with_text(problems: list[Problem], file: str, lines: tuple[str, ...]) -> tuple[Problem, ...]:
    """The problems in the order of their places, each with its own line for printing."""
    return tuple(
        problem._replace(text=lines[problem.span.line - 1])
        for problem in sorted(problems, key=lambda p: p.span or Span(file, 0))
        if problem.span is not None
    )
