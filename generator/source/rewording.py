"""Say in plain words what the YAML parser stumbled over.

Takes  the parser's error, the file's name and lines.
Gives  `reworded`: one `Problem` at the place where the slip lies.
Knows  the parser's phrases; imports no parser.
"""

from __future__ import annotations

from generator.source.problem import Problem
from generator.source.span import Span

# Each of the parser's phrases, with what it means to somebody who has never heard of a token.
_PHRASES = (
    ("mapping values are not allowed", "colon-in-text", "a colon followed by a space stands inside a text",
     "put the whole text in quotes"),
    ("could not find expected ':'", "colon-missing", "a line has no colon, so it is neither a key nor part of a text",
     "write `key: value`, or indent the line so that it continues the text above"),
    ("did not find expected key", "indent", "this line does not line up with those above it",
     "give it as many spaces at the front as its neighbours"),
    ("expected <block end>", "indent", "this line does not line up with those above it",
     "give it as many spaces at the front as its neighbours"),
    ("did not find expected '-' indicator", "indent", "this line does not line up with the list above it",
     "start it with `- ` under the other dashes"),
    ("did not find expected ',' or", "bracket-open", "a bracket that was opened here is not closed",
     "add the missing `]` or `}`, or a comma between two values"),
    ("found unexpected end of stream", "quote-open", "a quote that was opened here is not closed",
     "add the closing quote"),
    ("cannot start any token", "letter-first", "a text cannot start with this character",
     "put the text in quotes"),
    ("while scanning an anchor", "letter-first", "a text cannot start with `&` or `*`", "put the text in quotes"),
    ("while scanning an alias", "letter-first", "a text cannot start with `&` or `*`", "put the text in quotes"),
    ("while parsing a tag", "letter-first", "a text cannot start with `!`", "put the text in quotes"),
    ("undefined tag", "letter-first", "a text cannot start with `!`", "put the text in quotes"),
    ("found unexpected ':'", "colon-in-text", "a colon stands inside a text between brackets", "put the whole text in quotes"),
    ("while scanning a tag", "letter-first", "a text cannot start with `!`", "put the text in quotes"),
    ("while scanning a directive", "letter-first", "a line cannot start with `%`", "put the text in quotes"),
    *((words, "escape", "a backslash inside double quotes starts an escape that does not exist",
       "write the text in single quotes, or double the backslash")
      for words in ("unknown escape", "expected hexdecimal number", "escape code")),
    ("did not find expected node content", "letter-first", "a text cannot start with `]`, `}` or `,`", "put the text in quotes"),
    ("mapping keys are not allowed", "letter-first", "a text cannot start with `?` and a space", "put the text in quotes"),
    ("expected <document start>", "two-documents", "a line `...` or `---` ends the file above this line",
     "delete that line, or move what follows into a file of its own"),
    ("while scanning a block scalar", "block-text", "what stands behind `|` or `>`, or under it, is not read as a text of several lines",
     "write nothing behind the sign, and the text below it with spaces at the front; or put it in quotes on one line"),
    ("sequence entries are not allowed", "indent", "a dash cannot stand here",
     "put the list on lines of its own below the key"),
    ("nesting depth", "nested-too-deep", "brackets are nested too deeply", "count the brackets"),
)  # fmt: skip


# Reported where the reader gave up; the slip lies where the thing began.
_FROM_WHERE_IT_BEGAN = ("quote-open", "bracket-open", "colon-missing")


def reworded(error: Exception, file: str, lines: tuple[str, ...]) -> Problem:
    """Name and place what the parser stumbled over. `error` may carry `problem`, `context` and their marks."""
    problem = str(getattr(error, "problem", "") or error)
    context = str(getattr(error, "context", "") or "")
    mark, opened = getattr(error, "problem_mark", None), getattr(error, "context_mark", None)
    said = next((row for row in _PHRASES if row[0] in problem or row[0] in context), None)
    name, what, fix = (
        said[1:]
        if said
        else (
            "unreadable",
            "the file cannot be read from here on",
            "compare the line with its neighbours: indents, colons, quotes, brackets",
        )
    )
    at = opened if opened is not None and name in _FROM_WHERE_IT_BEGAN else mark or opened
    span = Span(file, 1, 1)
    if at is not None:
        line = min(at.line, max(0, len(lines) - 1))
        span = Span(file, line + 1, min(at.column, len(lines[line])) + 1)
        name, what, fix = _closer(name, what, fix, lines[line][: at.column])
    return Problem(name, span, what, "the rest of the file cannot be read until this is mended", fix)


def _closer(name: str, what: str, fix: str, before: str) -> tuple[str, str, str]:
    """Two slips that the parser cannot tell from others, told by what stands before them on their line."""
    if name == "indent" and before.rstrip().endswith(("'", '"')):
        return "text-after-quote", "something stands behind the closing quote", "put the whole text inside the quotes"
    if name == "colon-in-text" and ":" not in before:
        return (
            "line-runs-on",
            "this line is read as going on with the text above it, and has a colon of its own",
            "give it as many spaces at the front as its neighbours; or, if the line above is a key, end that one with a colon",
        )
    return name, what, fix
