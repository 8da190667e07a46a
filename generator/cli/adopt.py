"""`gauzeleaf adopt`: take protocols of the shipped library, or of another book, into one's own."""

from __future__ import annotations

from itertools import groupby

import click

from generator import adoption, opening, shelf
from generator.adoption import Adoption, Need, Offer
from generator.cli import report
from generator.cli.common import book_option, moment, now_option


@click.command("adopt", epilog="Example: gauzeleaf adopt velpeau-sling --book our-book")
@click.argument("names", nargs=-1, metavar="[ID]...")
@book_option
@click.option("--from", "source", metavar="DIR", help="take them from another book; left out, the shipped library")
@click.option(
    "--with-needs",
    is_flag=True,
    help="also add missing materials and signs to stock.yaml and signs.yaml, without price and tension",
)
@now_option
def command(names: tuple[str, ...], book: str | None, source: str | None, with_needs: bool, now: str | None) -> None:
    """Take protocols into your own book as revision 1, unsigned, with what must be decided marked.

    ID is a protocol's name (velpeau-sling) or its document number (LB-SLG-001). Without ID, list what the library holds.
    Comments and layout are kept; a file of yours is never overwritten. Nothing prints from a protocol until every
    `to decide` in it has a value and a clinician has signed.
    """
    opened = opening.open_book(book)
    library = opening.open_book(source or shelf.shipped("protocols").as_posix())
    if not names:
        _list(adoption.offers(library, opened), opened.folder.as_posix(), book)
        return
    again = "".join(
        f" {option} {_typed(folder)}" for option, folder in (("--book", book), ("--from", source)) if folder is not None
    )
    again += " --with-needs" if with_needs else ""
    done = adoption.adopt(opened, library, names, moment(now), with_needs=with_needs, again=again)
    shelf.write_whole(done.files)
    _tell(done, _typed(book or opened.folder.as_posix()))


def _typed(folder: str) -> str:
    """A folder as it must be typed."""
    return f'"{folder}"' if " " in folder else folder


def _list(offers: tuple[Offer, ...], folder: str, book: str | None) -> None:
    own = any(offer.has is not None for offer in offers)
    rows = [("name", "number", "kind", "title", *(("in your book",) if own else ()))]
    rows += [
        (offer.slug, offer.number, offer.kind, offer.title, *((("yes" if offer.has else "no"),) if own else ()))
        for offer in offers
    ]
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    for row in rows:
        click.echo("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())
    if own:
        option = f" --book {_typed(book)}" if book is not None else ""
        click.echo(f"\nYour book is {folder}. Take one over with: gauzeleaf adopt NAME{option}")
    else:
        click.echo(
            "\nThis is the library itself. Name your own book with --book DIR, or start one with: gauzeleaf new our-book"
        )


def _tell(done: Adoption, folder: str) -> None:
    """What was written, and what people now have to do."""
    for place in (place for place in done.files if place.suffix != ".json"):
        added = ", ".join(need.name for need in done.added if need.file == place.as_posix())
        click.echo(
            f"{place.as_posix()}: " + (f"added at its end: {added}" if added else "adopted as revision 1, unsigned")
        )
    click.echo("\nTo be decided before anything prints from it:")
    for problem in done.problems:
        if problem.name == "not-decided":
            click.echo(f"  {problem.span}: {problem.what}")
    if done.marks:
        click.echo("\nTo be confirmed or changed, for no published source stands behind it:")
        for mark in done.marks:
            click.echo(f"  {mark.span}: {mark.line}")
    _tell_needs(done.needs)
    click.echo(f"\nNext: read it line by line with your clinicians, then run: gauzeleaf check {folder}")
    report.show([problem for problem in done.problems if problem.name != "not-decided"])


def _tell_needs(needs: tuple[Need, ...]) -> None:
    for file, group in groupby(needs, key=lambda need: need.file):
        here = tuple(group)
        shown = [" " * need.indent + line for need in here for line in need.lines]
        if shown:
            click.echo(f"\nMissing in {file}. Add these lines at its end (`--with-needs` would have added them):")
            click.echo("\n".join(shown))
        for need in here:
            if not need.lines:
                click.echo(f"\nMissing in {file}: the {need.what} `{need.name}`; write it there yourself.")
