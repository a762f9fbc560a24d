"""The route file: text to a `Tree` of statements with their places, and back to tidy text."""

from navlog.routefile.lexer import decode
from navlog.routefile.parser import parse, parse_statement
from navlog.routefile.tree import FlightBlock, Statement, Tree, Word
from navlog.routefile.writer import to_text

__all__ = ["FlightBlock", "Statement", "Tree", "Word", "decode", "parse", "parse_statement", "to_text"]
