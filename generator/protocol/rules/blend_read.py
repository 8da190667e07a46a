"""R54: a stored blend was signed with its parts as they now stand.

What it looks for: `reviewed_against` beside the parts and their revisions.
Why it matters: a part that has changed since changes the blend without anybody having read the two together.
Stops: a part of another revision; a part that was not read; a revision of something that is no part.
Write instead: read the blend again with the part as it stands, then write the new revision.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.reach import parts_of
from generator.protocol.rules.rule import Rule, each
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind != "blend":
        return
    parts = parts_of(protocol, book)
    # A part that is not there, or may not be one, has its own problem.
    if len(parts) < len(protocol.blend) or any(part.purpose == "haemorrhage" for part in parts):
        return
    slugs = tuple(dict.fromkeys(part.partition("@")[0] for part in protocol.blend))
    read = protocol.reviewed_against
    here = {slug: book.protocols[slug] for slug in slugs}
    if not read:
        listed = ", ".join(f"{slug}: {part.revision}" for slug, part in here.items())
        yield Problem(
            "parts-not-read",
            protocol.span("blend"),
            "nothing says which revision of its parts was read when the blend was signed",
            "a part that changes later changes the blend, and nobody would have read the two together",
            f"read the parts with the blend, then add a line `reviewed_against: {{{listed}}}`",
            severity="warning",
        )
        return
    at = protocol.span("reviewed_against")

    def judge(slug: str) -> Iterator[Problem]:
        part = here[slug]
        if slug not in read:
            yield Problem(
                "part-not-read",
                at,
                f"`reviewed_against` has no revision of `{slug}`",
                "nobody is known to have read that part with the blend",
                f"read `{slug}` with the blend, then write `{slug}: {part.revision}`",
                also=((part.span("revision"), f"`{slug}` is at revision {part.revision}"),),
            )
        elif read[slug] != part.revision:
            yield Problem(
                "part-revised",
                at,
                f"`{slug}` was read at revision {read[slug]} and is now at revision {part.revision}",
                "what changed in it changes the blend, and nobody has read the two together since",
                f"read `{slug}` with the blend again, then write `{slug}: {part.revision}`",
                also=((part.span("revision"), f"revision {part.revision} is set here"),),
            )

    yield from each(slugs, judge)
    for slug in read:
        if slug not in slugs:
            yield Problem(
                "stranger-read",
                at,
                f"`reviewed_against` names `{slug}`, and that is no part of the blend",
                "a part may have been exchanged after the blend was signed",
                f"take `{slug}` out, or read the blend again with: {', '.join(slugs)}",
            )


RULE = Rule(
    id="R54",
    name="part-revised",
    looks_for="A stored blend was read and signed with each of its parts at the revision now in force.",
    why="A part that changes later changes the blend without anybody having read the two together.",
    source="ISO 9001:2015 7.5; house rule",
    broken="blend: [splinted-limb, open-wound@inflammatory]\nreviewed_against: {splinted-limb: 2, open-wound: 6}\n",
    mended="blend: [splinted-limb, open-wound@inflammatory]\nreviewed_against: {splinted-limb: 3, open-wound: 6}\n",
    check=check,
    also=("part-not-read", "parts-not-read", "stranger-read"),
    blends=True,
)
