"""The patient on the command line: a file, options, or both.

Takes  options as typed.
Gives  one located tree, as if a single file had held it all; an option stands before the file.
Knows  which option is which key; what the values mean is the vocabulary's business.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

import click

from generator import shelf
from generator.source.problem import Problem, Refusal
from generator.source.span import Span
from generator.source.text import hidden_in, read_tree
from generator.source.tree import Entries, Items, Node, Scalar

F = TypeVar("F", bound=Callable[..., Any])

# option, path in the patient file, help
OPTIONS = (
    ("--name", ("patient", "name"), "the animal's name"),
    ("--species", ("patient", "species"), "dog or cat"),
    ("--weight", ("patient", "weight"), "with its unit, such as '18.4 kg'"),
    ("--born", ("patient", "born"), "year-month-day, or unknown"),
    ("--file-number", ("patient", "file_number"), "the practice's number for the animal"),
    ("--owner", ("owner", "name"), "the owner's name"),
    ("--owner-language", ("owner", "language"), "language tag, such as es"),
    ("--site", ("limb", "site"), "such as 'left hind'"),
    ("--distal-girth", ("limb", "distal_girth"), "with its unit, such as '14 cm'"),
    ("--proximal-girth", ("limb", "proximal_girth"), "with its unit"),
    ("--covered-length", ("limb", "covered_length"), "with its unit, along the limb"),
    ("--skin", ("skin",), "intact, incision or wound"),
    ("--reason", ("reason",), "picks the end where a protocol offers a choice"),
    ("--applied", ("applied",), "when it went on, such as 2027-03-13T10:30"),
    ("--planned", ("planned",), "when it will go on"),
    ("--first", ("first",), "yes, if this is the first bandage of the course"),
    ("--began", ("began",), "when the first bandage of the course went on"),
    ("--exudate", ("wound", "exudate"), "how much fluid the wound gives: none, low, moderate or high"),
    ("--contact", ("wound", "contact"), "the clinician's own choice of dressing, as named in stock.yaml"),
    ("--contact-because", ("wound", "because"), "why; needed for a dressing that dries on"),
    ("--issued-by", ("issued_by",), "who sends the animal home"),
    ("--explained-by", ("explained_by",), "who explains the sheet to the owner"),
    ("--check-at", ("visits", "check"), "the booked first check"),
    ("--change-at", ("visits", "change"), "the booked change"),
    ("--recheck-at", ("visits", "recheck"), "the booked recheck"),
    ("--removal-at", ("visits", "removal"), "the booked removal"),
)


# Options that may be given again, and the list each fills.
_LISTS = (("--condition", ("condition",)), ("--wound-feature", ("wound", "features")))


def _parameter(option: str) -> str:
    return "p_" + option.removeprefix("--").replace("-", "_")


def options(function: F) -> F:
    """Add every option of the patient to a command."""
    for option, _, text in reversed(OPTIONS):
        function = click.option(option, _parameter(option), metavar="TEXT", help=text)(function)
    function = click.option(
        "--condition",
        "p_condition",
        multiple=True,
        metavar="TEXT",
        help="a condition from modifiers.yaml; may be given again",
    )(function)
    function = click.option(
        "--wound-feature",
        "p_wound_feature",
        multiple=True,
        metavar="TEXT",
        help="infected, 'bare bone or tendon' and the like; may be given again",
    )(function)
    return click.option(
        "--patient",
        "patient_file",
        type=click.Path(path_type=Path),
        metavar="FILE",
        help="the patient file; every option below stands before it",
    )(function)


def tree_of(patient_file: Path | None, typed: dict[str, Any]) -> Node:
    """Put file and options together.

    Raises:
        Refusal: the file cannot be read as YAML.
    """
    tree: Node = Entries((), Span("--patient"))
    if patient_file is not None:
        reading = read_tree(shelf.read_file(patient_file, "patient file"), patient_file.as_posix())
        errors = [problem for problem in reading.problems if problem.severity == "error"]
        if errors or reading.tree is None:
            raise Refusal(errors)
        tree = reading.tree
    if not isinstance(tree, Entries):
        return tree
    hidden: list[Problem] = []
    for option, _, _ in OPTIONS:
        hidden += hidden_in(typed.get(_parameter(option)) or "", partial(_place, option))
    if hidden:
        raise Refusal(hidden)
    for option, path, _ in OPTIONS:
        value = typed.get(_parameter(option))
        if value is not None:
            tree = _put(tree, path, Scalar(value, Span(option, 0, 0)), option)
            # `--planned` stands instead of the file's `applied`, and the like.
            for rivals in (("applied", "planned"), ("first", "began", "earlier")):
                for rival in rivals if path[0] in rivals else ():
                    if rival != path[0] and typed.get(f"p_{rival}") is None:
                        tree = Entries(tuple(pair for pair in tree.entries if pair[0].text != rival), tree.span)
    for option, path in _LISTS:
        if typed.get(_parameter(option)):
            items = tuple(Scalar(text, Span(option, 0, 0)) for text in typed[_parameter(option)])
            tree = _put(tree, path, Items(items, Span(option, 0, 0)), option)
    return tree


def _place(option: str, _at: int) -> Span:
    return Span(option)


def _put(tree: Entries, path: tuple[str, ...], node: Node, option: str) -> Entries:
    head, rest = path[0], path[1:]
    entries = list(tree.entries)
    for index, (name, child) in enumerate(entries):
        if name.text == head:
            entries[index] = (name, _put(child, rest, node, option) if rest and isinstance(child, Entries) else node)
            return Entries(tuple(entries), tree.span)
    inner: Node = _put(Entries((), Span(option)), rest, node, option) if rest else node
    return Entries((*entries, (Scalar(head, Span(option, 0, 0)), inner)), tree.span)
