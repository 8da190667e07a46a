"""The command line: which commands there are, and what becomes of what goes wrong.

Takes  the words typed.
Gives  messages and an exit status: 0 done (warnings allowed), 1 problems or a refusal, 2 wrong usage, 3 a fault of ours.
Knows  the names of the commands; each lies in a file of its own, read only when it is asked for.
"""

from __future__ import annotations

import gc
import os
import sys
from pathlib import Path
from typing import NoReturn

import click

from generator.cli.late import put_off
from generator.cli.lazily import Commands
from generator.source.problem import Refusal

COMMANDS = {
    "check": "Find everything wrong in a book.",
    "plan": "Reckon a bandage for one patient.",
    "sheet": "Print the owner's sheet.",
    "card": "Print the floor card.",
    "workings": "Print every figure's working, and who decided what.",
    "binder": "Print the clinic's SOP binder.",
    "visits": "Write the visits as a calendar file.",
    "course": "Show all bandages of one animal and when they end.",
    "supplies": "Add up what plans take from the shelf.",
    "words": "Keep the owner's words in other languages.",
    "new": "Start a book of your own.",
    "revise": "Raise a protocol to its next revision.",
    "approve": "Record an approval and print the page to sign.",
    "compare": "Print what changed between two revisions, for staff to sign.",
    "chapter": "Print any revision that is kept, WITHDRAWN where it counts no more.",
    "reissue": "Print the pages that replace others in the binder's copies, with an insert list.",
    "withdraw": "Take a document out of use for good.",
    "reviews": "List what falls due, by month.",
    "adopt": "Take protocols of the library into your book.",
    "rules": "Show the rules in force.",
    "explain": "Explain a rule or a problem, with an example broken and mended.",
    "schema": "Write the JSON Schema of a protocol.",
    "demo": "Print everything for an invented clinic and its patients.",
}

# No paper of ours holds a photograph, asks the network for anything or unpacks an archive, but ReportLab, segno and the
# standard library are ready for it: a fourth of all their loading.
NOT_YET = ("PIL.Image", "shutil", "urllib.request", "zipfile")


@click.group(
    cls=Commands,
    table=COMMANDS,
    module="generator.cli.{}",
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(package_name="gauzeleaf", prog_name="gauzeleaf")
def main() -> None:
    """Bandage protocols of a small-animal practice: checked, reckoned for one animal, printed.

    Every limit and estimate on paper defers to the attending veterinarian and to local law.

    Start with: gauzeleaf demo
    """


def guarded(arguments: list[str] | None = None) -> int:
    """Run a command; give its exit status, never a traceback."""
    from generator.cli import report

    try:
        status = main.main(args=arguments, prog_name="gauzeleaf", standalone_mode=False)
        return status if isinstance(status, int) else 0
    except Refusal as refusal:
        return report.refused(refusal)
    except click.exceptions.Exit as done:
        return int(done.exit_code)
    except click.ClickException as error:
        error.show()
        return error.exit_code if error.exit_code == 2 else 1
    except click.Abort:
        click.echo("Stopped. Nothing was written.", err=True)
        return 1
    except BrokenPipeError:
        # Whoever read our output has seen enough; that is no fault.
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123
        return 0
    except Exception as error:
        if os.environ.get("GAUZELEAF_TRACE"):
            raise
        click.echo(
            f"gauzeleaf: a fault of ours, not yours: {own_bug(error)}. Nothing was written. Please report this line.",
            err=True,
        )
        return 3


def own_bug(error: BaseException) -> str:
    """One line for a fault of ours: what, and where in the program."""
    trace = error.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    where = f"{Path(trace.tb_frame.f_code.co_filename).name}:{trace.tb_lineno}" if trace else "?"
    return " ".join(f"{type(error).__name__} at {where}: {error}".split())


def run() -> NoReturn:
    """The program."""
    # A command is short and what it makes lives to its end: looking for rubbish in it took a twentieth of a sheet.
    gc.disable()
    put_off(*NOT_YET)
    for stream in (sys.stdout, sys.stderr):
        # A console that is not UTF-8 shows a substitute; it never stops the work.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    status = guarded()
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            status = status or 1
    # All files are closed and on disk; taking the interpreter down piece by piece only keeps the owner waiting.
    os._exit(status)
