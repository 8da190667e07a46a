"""A module that was put off is the module itself, only later; and no sheet ever waits for one."""

from __future__ import annotations

import subprocess
import sys

import pytest

from generator.cli.main import NOT_YET
from tests.conftest import ROOT

# Asks for the class without asking the module.
IS_LATE = """
import sys
from generator.cli.late import _Late, put_off
from generator.cli.main import NOT_YET
def is_late(name): return type(sys.modules[name]) is _Late
"""


def ran(text: str, *arguments: str) -> str:
    """What a program of its own prints: modules are loaded once a process."""
    done = subprocess.run(
        [sys.executable, "-c", IS_LATE + text, *arguments], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def test_imports_of_the_name_do_not_load_it_and_the_first_question_does():
    assert ran("""
put_off("urllib.request")
import urllib.request
import urllib.request as again
import xml.sax.saxutils
print(is_late("urllib.request"), "http.client" in sys.modules)
print(again.urlopen.__module__, is_late("urllib.request"), "http.client" in sys.modules)
""").split("\n") == ["True False", "urllib.request False True"]


@pytest.mark.parametrize("name", [*NOT_YET, "json.decoder", "difflib"])
def test_it_is_the_same_module_with_all_its_names(name):
    ask = "print(sorted(k for k in vars(module) if k != '__builtins__'), module.__name__, module.__spec__.name, module.__file__, type(module))"
    plain = ran(f"import importlib; module = importlib.import_module({name!r}); {ask}")
    late = ran(f"""
put_off({name!r})
import importlib
module = importlib.import_module({name!r})
assert module is sys.modules[{name!r}]
getattr(module, "__doc__")
try: module.no_such_name_at_all
except AttributeError as error: assert {name!r} in str(error), error
else: raise SystemExit("a name that is not there was given")
{ask}
""")
    assert late == plain


def test_names_taken_from_it_are_its_own():
    assert (
        ran("""
put_off("difflib")
from difflib import get_close_matches
import difflib
print(get_close_matches("bandge", ["bandage"]), difflib.get_close_matches is get_close_matches, is_late("difflib"))
""")
        == "['bandage'] True False"
    )


def test_what_is_loaded_or_absent_stays_as_it_is():
    assert (
        ran("""
import json, json.decoder
before = sys.modules["json.decoder"]
put_off("json.decoder", "no_such_module", "no_such_package.module", "json")
print(sys.modules["json.decoder"] is before, sys.modules["json"] is json, "no_such_module" in sys.modules)
""")
        == "True True False"
    )


def test_a_module_that_fails_fails_each_time_it_is_asked(tmp_path):
    (tmp_path / "failing.py").write_text("raise OSError('no reason')\n", encoding="utf-8")
    assert (
        ran(
            """
sys.path.insert(0, sys.argv[1])
put_off("failing")
import failing
for _ in range(2):
    try: failing.anything
    except OSError as error: print(error)
""",
            str(tmp_path),
        )
        == "no reason\nno reason"
    )


def test_a_photograph_is_still_drawn_by_who_asks(tmp_path):
    """ReportLab opens and judges images by names it took from the package when it was loaded."""
    text = """
from PIL import Image as Real
Real.new("RGB", (4, 4), (200, 0, 0)).save(sys.argv[1] + "/photo.png")
"""
    ran(text, str(tmp_path))
    assert (
        ran(
            """
put_off(*NOT_YET)
from reportlab.pdfgen.canvas import Canvas
assert is_late("PIL.Image")
canvas = Canvas(sys.argv[1] + "/photo.pdf")
canvas.drawImage(sys.argv[1] + "/photo.png", 0, 0)
canvas.save()
print(is_late("PIL.Image"), b"/Image" in open(sys.argv[1] + "/photo.pdf", "rb").read())
""",
            str(tmp_path),
        )
        == "False True"
    )


SHEET = """
import io, contextlib
from generator.cli.main import guarded
if sys.argv[1] == "late": put_off(*NOT_YET)
status = guarded("sheet --protocol padded-limb-support --patient protocols/patients/maple.yaml --book protocols --now 2027-03-13T10:40 --language en --output".split() + [sys.argv[2]])
print(status, [name for name in NOT_YET if sys.argv[1] == "late" and not is_late(name)], sorted({"http.client", "socket", "email", "ssl"} & set(sys.modules)))
"""


def test_a_sheet_is_the_same_and_loads_none_of_them(tmp_path):
    said = ran(SHEET, "late", str(tmp_path / "late")).split("\n")[-1]
    assert said == "0 [] []"
    ran(SHEET, "plain", str(tmp_path / "plain"))
    late, plain = (next((tmp_path / way).glob("*.pdf")).read_bytes() for way in ("late", "plain"))
    assert late == plain
