"""`gauzeleaf approve`: record that a clinician approved what protocols say, and print the page that is signed."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from generator import binding, flow, opening, shelf
from generator.cli.common import book_option, day, moment, now_option, output_option
from generator.control.approve import Terms, approve


@click.command("approve", epilog='Example: gauzeleaf approve LB-SUP-002 --by "Dr M. Tamsin" --book our-book')
@click.argument("numbers", nargs=-1, metavar="[ID]...")
@click.option("--all", "all_open", is_flag=True, help="every protocol that awaits approval")
@click.option("--by", metavar="NAME", help="the clinician who approves; left out, whoever the file names")
@click.option("--on", metavar="DATE", callback=day, help="the day of approval; left out, today")
@click.option("--effective", metavar="DATE", callback=day, help="in force from; left out, as written, else that day")
@click.option(
    "--review-by", metavar="DATE", callback=day, help="to be read again by; left out, as written, else a year on"
)
@book_option
@now_option
@output_option
def command(
    numbers: tuple[str, ...],
    all_open: bool,
    by: str | None,
    on: date | None,
    effective: date | None,
    review_by: date | None,
    book: str | None,
    now: str | None,
    output: Path,
) -> None:
    """Approve protocols as they stand: record who, when and which content, keep that content, print the page to be signed.

    ID is a document number (LB-SUP-002) or a name. The approval holds for these very words. Changed afterwards, a protocol
    prints TRIAL until its revision is raised (`gauzeleaf revise`) and approved again. Comments and layout do not count.
    """
    if bool(numbers) == all_open:
        raise click.UsageError("Name the protocols to approve, or give --all.")
    opened = opening.open_book(book)
    at = moment(now)
    done = approve(opened, numbers, Terms(by, on, effective, review_by), at)
    page = (
        output
        / f"{shelf.file_name('approval', *(row.approval.id for row in done.issues[:3]), done.issues[0].approval.approved_on.isoformat())}.pdf"
    )
    shelf.write_whole(dict(done.files) | {page: flow.press(binding.approval_page(done.book, done.issues, at))})
    for row in done.issues:
        one = row.approval
        click.echo(
            f"{one.id} revision {one.revision}: approved by {one.approved_by} on {one.approved_on}, content {one.shown}, "
            f"in force {one.effective}, review by {one.review_by}"
        )
    click.echo(f"{page.as_posix()}: to be signed by hand and kept with the binder.")
