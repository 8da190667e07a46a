"""What holds from one process to the next: the same bytes, and nothing loaded that is not needed."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

from .lines import CJK, LINES
from .sheet import block, pdf

HERE = Path(__file__).parent


def said(code: str, **environment: str) -> str:
    """What a fresh Python prints that finds the package and, as `text`, this folder."""
    path = os.pathsep.join((str(HERE.parents[2]), str(HERE.parent)))
    made = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, **environment, "PYTHONPATH": path},
        capture_output=True,
        text=True,
        check=True,
    )
    return made.stdout.strip()


def test_the_same_text_gives_the_same_bytes_in_any_process():
    code = (
        "import hashlib\n"
        "from text.sheet import block, pdf; from text.lines import LINES, CJK\n"
        "data = pdf([block(LINES[tag], tag) for tag in LINES if tag not in CJK])\n"
        "print(hashlib.sha256(data).hexdigest())"
    )
    here = hashlib.sha256(pdf([block(LINES[tag], tag) for tag in LINES if tag not in CJK])).hexdigest()
    assert said(code, PYTHONHASHSEED="1", TZ="Asia/Tokyo", LC_ALL="C") == here
    assert said(code, PYTHONHASHSEED="77", TZ="America/Chicago") == here


def test_an_english_document_loads_no_other_language():
    code = (
        "import sys\n"
        "from text.sheet import block, pdf\n"
        "from generator.press.text import fonts\n"
        "line = 'Keep dry \\u2066+1 802-555-0142\\u2069 \\u2265 2 h, Nguy\\u1ec5n, \\u0411\\u043e\\u0440'\n"
        "pdf([block(line)])\n"
        "print(sorted({'uniseg', 'budoux'} & set(sys.modules)))\n"
        "others = ('Arabic', 'Hebrew', 'Devanagari', 'Gurmukhi', 'Thai')\n"
        "print([n for n in others if fonts.family('NotoSans' + n).regular._font is not None])"
    )
    assert said(code).split("\n") == ["[]", "[]"]


def test_checking_for_missing_glyphs_loads_no_pdf_library():
    code = (
        "import sys\n"
        "from generator.press.text import missing_glyphs\n"
        "print(missing_glyphs('Keep dry \\u2610', 'en') == ('\\u2610',))\n"
        "print(any(name.startswith('reportlab') for name in sys.modules))"
    )
    assert said(code).split("\n") == ["True", "False"]
