"""Cut the shipped fonts from their sources: fixed weights, only the characters we print.

Takes  the variable fonts of the PyPI packages `fontpkg-noto-*` and the fixed ones of Debian's
       `fonts-noto-core`.
Gives  `*.ttf`, one licence text a family and `fonts.json` (hash, source, version) in this folder.
Knows  HarfBuzz's subsetter, and nothing of text; it is run by hand, never by the tool.

Run: `python generator/press/fonts/build.py` with `uharfbuzz` and the packages named in `SOURCES` installed.
"""

from __future__ import annotations

import hashlib
import importlib.metadata
import importlib.util
import json
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import uharfbuzz as hb

HERE = Path(__file__).resolve().parent
DEBIAN = Path("/usr/share/fonts/truetype/noto")

# Latin with Vietnamese, Greek (doses, micrograms), Cyrillic, the modifier apostrophe that Ukrainian needs,
# figures, punctuation, spaces and the few signs of a clinic's prose. Whole blocks, so that a name typed at
# the desk prints.
LATIN = (
    (0x20, 0x7E), (0xA0, 0x24F), (0x259, 0x259), (0x2B9, 0x2BC), (0x2C6, 0x2DD),
    (0x300, 0x338), (0x370, 0x3FF), (0x400, 0x4FF), (0x1E00, 0x1EFF), (0x2000, 0x200A), (0x2010, 0x2027),
    (0x202F, 0x203A), (0x2044, 0x2044), (0x2070, 0x209C), (0x20A0, 0x20BF), (0x2116, 0x2116),
    (0x2122, 0x2122), (0x2150, 0x215F), (0x2190, 0x2199), (0x2212, 0x2212), (0x2248, 0x2265),
)  # fmt: skip
# Noto Sans 2.015 has no arrows and no "at most"; a protocol says `≥ 2 h` as a matter of course.
SIGNS = ((0x2190, 0x2199), (0x21D2, 0x21D2), (0x2248, 0x2248), (0x2260, 0x2260), (0x2264, 0x2265))
# Kept features: what correct spelling needs, kerning, local forms and figures. No ornamental ligatures.
FEATURES = ("tnum", "lnum", "case", "kern", "calt")
WEIGHTS = (("Regular", 400), ("Bold", 700))


@dataclass(frozen=True, slots=True)
class Source:
    """Where a family comes from: a Python or a Debian package, and what is kept of it (None: all)."""

    package: str
    file: str
    keep: tuple[tuple[int, int], ...] | None = None
    weights: tuple[tuple[str, int], ...] = WEIGHTS


SOURCES = {
    "NotoSans": Source("fontpkg-noto-sans", "NotoSans[wdth,wght].ttf", LATIN),
    # Not the later 2.012, which draws a letter and its dots as separate glyphs: they copy out with gaps
    # between them.
    "NotoSansArabic": Source("fonts-noto-core", "NotoSansArabic-{}.ttf"),
    "NotoSansDevanagari": Source("fontpkg-noto-sans-devanagari", "NotoSansDevanagari[wdth,wght].ttf"),
    "NotoSansGurmukhi": Source("fonts-noto-core", "NotoSansGurmukhi-{}.ttf"),
    "NotoSansHebrew": Source("fonts-noto-core", "NotoSansHebrew-{}.ttf"),
    "NotoSansMath": Source("fonts-noto-core", "NotoSansMath-{}.ttf", SIGNS, WEIGHTS[:1]),
    "NotoSansThai": Source("fontpkg-noto-sans-thai", "NotoSansThai[wdth,wght].ttf"),
}


def build(folder: Path = HERE) -> list[dict[str, Any]]:
    """Write every font, licence and `fonts.json` into `folder`; the records are returned in order.

    Raises:
        SystemExit: a source is not installed, or its licence is not the plain OFL.
    """
    records = []
    for family, source in SOURCES.items():
        for style, weight in source.weights:
            path, version = _find(source, style)
            face = hb.Face(hb.Blob.from_file_path(str(path)))
            rights = face.get_name(hb.OTNameIdPredefined.COPYRIGHT) or ""
            licence = face.get_name(hb.OTNameIdPredefined.LICENSE) or ""
            if "SIL Open Font License" not in licence or "Reserved Font Name" in rights + licence:
                raise SystemExit(f"{path}: not plain OFL 1.1, so it must not be shipped cut")
            data = cut(face, source.keep, weight)
            (folder / f"{family}-{style}.ttf").write_bytes(data)
            records.append(
                {
                    "file": f"{family}-{style}.ttf",
                    "sha256": hashlib.sha256(data).hexdigest(),
                    "bytes": len(data),
                    "font_version": (face.get_name(hb.OTNameIdPredefined.VERSION_STRING) or "").split(";")[0],
                    "weight": weight,
                    "package": source.package,
                    "package_version": version,
                    "source_file": path.name,
                    "source_sha256": hashlib.sha256(path.read_bytes()).hexdigest(),
                    "copyright": rights,
                    "licence": "OFL-1.1",
                    "built_with": f"uharfbuzz {hb.__version__}",
                }
            )
            (folder / f"OFL-{family}.txt").write_text(f"{rights}\n\n{_open_font_licence()}", encoding="utf-8")
    (folder / "fonts.json").write_text(json.dumps(records, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    return records


def cut(face: Any, keep: tuple[tuple[int, int], ...] | None, weight: int) -> bytes:
    """Subset one face to the blocks in `keep` (inclusive code point ranges, None keeps all) at one weight."""
    wanted = hb.SubsetInput()
    have = set(face.unicodes)
    wanted.unicode_set.update(have if keep is None else have & {c for a, b in keep for c in range(a, b + 1)})
    wanted.flags = hb.SubsetFlags.NO_HINTING | hb.SubsetFlags.NOTDEF_OUTLINE
    wanted.layout_feature_tag_set.update({int.from_bytes(tag.encode(), "big") for tag in FEATURES})
    wanted.name_id_set.update({0, 1, 2, 4, 5, 6, 13, 14})
    for axis in face.axis_infos:
        if axis.tag == "wght":
            wanted.pin_axis_location(face, "wght", weight)
        else:
            wanted.pin_axis_to_default(face, axis.tag)
    return bytes(hb.subset(face, wanted).blob.data)


def _find(source: Source, style: str) -> tuple[Path, str]:
    if source.package.startswith("fontpkg-"):
        spec = importlib.util.find_spec(source.package.replace("-", "_"))
        if spec is None or not spec.submodule_search_locations:
            raise SystemExit(f"install {source.package} first")
        path = Path(spec.submodule_search_locations[0], "files", source.file)
        return path, importlib.metadata.version(source.package)
    path = DEBIAN / source.file.format(style)
    asked = subprocess.run(
        ["dpkg-query", "-W", "-f", "${Version}", source.package], capture_output=True, text=True, check=False
    )
    if not path.exists() or asked.returncode:
        raise SystemExit(f"install the Debian package {source.package} first")
    return path, asked.stdout.strip()


def _open_font_licence() -> str:
    """The licence's own words, without the copyright line of the package it was found in."""
    spec = importlib.util.find_spec("fontpkg_noto_sans")
    if spec is None or not spec.submodule_search_locations:
        raise SystemExit("install fontpkg-noto-sans first")
    text = Path(spec.submodule_search_locations[0], "LICENSE").read_text(encoding="utf-8")
    return text[text.index("This Font Software is licensed under") :]


if __name__ == "__main__":
    made = build()
    for record in made:
        sys.stdout.write(f"{record['bytes']:8d}  {record['file']:32s}  {record['font_version']}\n")
    sys.stdout.write(f"{sum(r['bytes'] for r in made):8d}  together\n")
