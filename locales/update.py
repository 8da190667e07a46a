"""Bring every catalogue beside this file up to date: `python locales/update.py`.

Takes  the phrases, templates and protocols of this checkout.
Gives  each `locales/<language>/owner.po` with exactly the sentences there are, and its problems on the screen.
Knows  where things lie in the checkout. A translator edits the catalogue; `generator/words/update.py` keeps its words.
"""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from generator.source.problem import as_text  # noqa: E402
from generator.source.text import read_tree  # noqa: E402
from generator.words import extract, po, update  # noqa: E402
from generator.words.catalogue import plural_rule  # noqa: E402
from generator.words.check import check_catalogue  # noqa: E402
from generator.words.glossary import read_glossary  # noqa: E402
from generator.words.signoff import NOBODY, read_ledger  # noqa: E402


def messages() -> tuple[extract.Message, ...]:
    """Everything the program and the book of this checkout say to an owner."""
    phrases = Path("generator/compose/phrases.py")
    found = list(extract.from_phrases((ROOT / phrases).read_text(encoding="utf-8"), phrases.as_posix()))
    for path in sorted((ROOT / "templates").glob("*")):
        found += extract.from_template(path.read_text(encoding="utf-8"), f"templates/{path.name}")
    trees = {}
    for path in sorted((ROOT / "protocols").glob("*.yaml")):
        name = f"protocols/{path.name}"
        reading = read_tree(path.read_bytes(), name)
        if reading.tree is None:
            raise SystemExit("\n".join(as_text(problem, lambda _: None) for problem in reading.problems))
        trees[name] = reading.tree
    return extract.merged([*found, *extract.from_book(trees)])


def main() -> int:
    """Update all catalogues; 1 if any has an error."""
    said = messages()
    status = 0
    for path in sorted((ROOT / "locales").glob("*/owner.po")):
        language, name = path.parent.name.replace("_", "-"), path.relative_to(ROOT).as_posix()
        catalogue = po.read(path.read_text(encoding="utf-8"), name)
        rule = plural_rule(catalogue.header.get("Plural-Forms", ""))
        broken = [*catalogue.problems]
        if rule is not None and not broken:
            text = po.write(update.updated(catalogue, said, rule[0]))
            path.write_text(text, encoding="utf-8", newline="\n")
            catalogue = po.read(text, name)
        signed = path.with_name("signed.json")
        ledger, unsound = (
            read_ledger(signed.read_text(encoding="utf-8"), str(signed)) if signed.exists() else (NOBODY, ())
        )
        beside = path.with_name("glossary.yaml")
        terms, unsound_terms = (
            read_glossary(beside.read_text(encoding="utf-8"), beside.relative_to(ROOT).as_posix(), language)
            if beside.exists()
            else (None, ())
        )
        lines = path.read_text(encoding="utf-8").split("\n")
        problems = [*check_catalogue(catalogue, language, said, ledger, terms), *unsound, *unsound_terms]
        for problem in problems:
            in_catalogue = problem.span.file == name
            sys.stdout.write(
                as_text(
                    problem,
                    lambda s, lines=lines, own=in_catalogue: (
                        lines[s.line - 1] if own and s.file.endswith(".po") else None
                    ),
                )
                + "\n\n"
            )  # type: ignore[misc]
        missing = sum(problem.name == "translation-missing" for problem in problems)
        sys.stdout.write(f"{name}: {len(said)} messages, {missing} without translation, {len(ledger)} signed\n")
        status = max(status, int(any(problem.severity == "error" for problem in problems)))
    return status


if __name__ == "__main__":
    raise SystemExit(main())
