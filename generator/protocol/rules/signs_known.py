"""R33: every sign that a protocol names is in signs.yaml, and few of them are emergencies.

What it looks for: the names in `signs`.
Why it matters: a sign without words cannot be printed; a long list of emergencies is not read.
Stops: a misspelt sign; an eighth emergency sign.
Write instead: the name as it stands in signs.yaml.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem

MOST_EMERGENCIES = 7


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    at = protocol.span("signs")
    known = dict(book.signs)
    unused = [name for name in known if name not in protocol.signs]
    for name in protocol.signs:
        if name not in known:
            close = next(iter(difflib.get_close_matches(name, unused, 1, 0.7)), None)
            yield Problem(
                "sign-unknown",
                at,
                f"`{name}` is not in signs.yaml",
                "a sign without words cannot be printed for anyone",
                (f"write `{close}`, or " if close else "")
                + f"add `{name}` to signs.yaml with urgency, staff and owner words",
            )
    found = [known[name] for name in protocol.signs if name in known and not is_unsound(known[name])]
    emergencies = [sign.id for sign in found if sign.urgency == "emergency"]
    if len(emergencies) > MOST_EMERGENCIES:
        yield Problem(
            "too-many-emergencies",
            at,
            f"{len(emergencies)} signs are emergencies; at most {MOST_EMERGENCIES} are printed in the box",
            "a long list is not read when it matters",
            f"take out {len(emergencies) - MOST_EMERGENCIES} of: {', '.join(emergencies)}",
        )


RULE = Rule(
    id="R33",
    name="sign-unknown",
    looks_for="Every sign named stands in signs.yaml, and at most seven are emergencies.",
    why="A sign without words cannot be printed, and a long list of emergencies is not read.",
    source="house rule",
    broken="kind: support.soft\nsigns: [toes-cold-or-discoloured, nails-appart, ...]\n",
    mended="kind: support.soft\nsigns: [toes-cold-or-discoloured, nails-apart, ...]\n",
    check=check,
    also=("too-many-emergencies",),
)
