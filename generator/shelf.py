"""Files: a book's folders, the data that comes with the tool, and writing so that nothing is ever half there.

Takes  paths.
Gives  bytes by name; and on writing, every file whole or none at all.
Knows  folders and disks (the only file that reads and replaces files); nothing of what is in them.
"""

from __future__ import annotations

import contextlib
import hashlib
import importlib.util
import os
import re
import stat
import sys
import tempfile
import unicodedata
import zoneinfo
from collections.abc import Iterator, Mapping, Sequence
from datetime import tzinfo
from functools import cache
from pathlib import Path

from generator.source.problem import Problem, Refusal
from generator.source.span import Span

_HERE = Path(__file__).parent
# Windows keeps these names for devices, whatever their ending.
_DEVICES = {"con", "prn", "aux", "nul", *(f"com{n}" for n in range(10)), *(f"lpt{n}" for n in range(10))}


def shipped(room: str) -> Path:
    """The folder of a room that comes with the tool: `protocols`, `templates` or `locales`.

    In a wheel it lies inside the package, in a checkout beside it.
    """
    inside = _HERE / "_share" / room
    return inside if inside.is_dir() else _HERE.parent / room


def is_installed() -> bool:
    """Whether the tool is an installed one, whose shipped rooms the next update replaces."""
    return (_HERE / "_share").is_dir()


def program_text(name: str) -> str:
    """The text of a file of this program by its place in the package, such as `compose/phrases.py`."""
    return (_HERE / name).read_text(encoding="utf-8")


def book_folder(typed: str | None) -> Path:
    """The folder that holds a book's YAML files.

    Args:
        typed: the folder as the user gave it; None: the one he stands in if it is a book, else the one that comes with the tool.
    Raises:
        Refusal: there is no such folder.
    """
    if typed is None:
        for candidate in (Path("protocols"), Path()):
            if (candidate / "clinic.yaml").is_file():
                return candidate
        return shipped("protocols")
    folder = Path(typed)
    if not folder.is_dir():
        raise Refusal(
            [
                Problem(
                    "folder-missing",
                    Span(typed),
                    "there is no such folder",
                    "a book is a folder of YAML files",
                    "name the folder of a book, or start one with `gauzeleaf new FOLDER`",
                )
            ]
        )
    return folder / "protocols" if (folder / "protocols").is_dir() else folder


def room_beside(folder: Path, room: str) -> Path:
    """A book's own `templates` or `locales`, beside its `protocols`; the shipped room where it has none."""
    own = folder.parent / room
    return own if folder.name == "protocols" and own.is_dir() else shipped(room)


def read_file(path: Path, what: str) -> bytes:
    """Read one file.

    Raises:
        Refusal: it is not there or cannot be read.
    """
    try:
        return path.read_bytes()
    except OSError as error:
        raise Refusal(
            [
                Problem(
                    "file-unreadable",
                    Span(str(path)),
                    f"the {what} cannot be read: {_reason(error)}",
                    "nothing can be reckoned without it",
                    "look at the name and at the file's permissions",
                )
            ]
        ) from None


def yaml_files(folder: Path, *, patients: bool) -> dict[str, bytes]:
    """Every YAML file of a book, by its name as the user would type it, in the order of names."""
    return {path.as_posix(): read_file(path, "file") for path in _yaml_paths(folder, patients) if path.is_file()}


def _yaml_paths(folder: Path, patients: bool) -> list[Path]:
    found = sorted([*folder.glob("*.yaml"), *folder.glob("*.yml")])
    return [*found, *sorted(folder.glob("patients/*.yaml"))] if patients else found


def stamps(folder: Path) -> dict[str, tuple[int, int]] | None:
    """Moment of the last change (ns) and size (bytes) of every YAML file of a book, by name as `yaml_files`.

    None where the folder cannot be listed just now: on a network that may pass by itself.
    """
    found = {}
    try:
        for path in _yaml_paths(folder, patients=True):
            try:
                status = path.stat()
            except FileNotFoundError:  # taken away since it was listed
                continue
            if stat.S_ISREG(status.st_mode):
                found[path.as_posix()] = (status.st_mtime_ns, status.st_size)
    except OSError:
        return None
    return found


# Beside a book's protocols: what was approved, word for word, and the record of who approved it.
_APPROVED = "approved"


def record_file(folder: Path) -> Path:
    """The record of a book's approvals."""
    return folder / _APPROVED / "record.json"


def kept_file(folder: Path, name: str) -> Path:
    """A revision as it was approved.

    Raises:
        Refusal: the name leads elsewhere.
    """
    if Path(name).name != name or name in ("", ".", ".."):
        raise Refusal(
            [
                Problem(
                    "record-unsound",
                    Span(record_file(folder).as_posix(), 1, 1),
                    f"the record of approvals names the file `{name}`, which is no plain name",
                    "a file from elsewhere would be taken for an approved one",
                    "bring back the last good copy of the record",
                )
            ]
        )
    return folder / _APPROVED / name


def plan_files(places: Sequence[Path]) -> tuple[list[tuple[str, bytes]], list[Problem]]:
    """The plans that files and folders hold, in the order given; of a folder every plan.json below it, in the order of names.

    Returns:
        Names and bytes; and a problem for every place that is not there, cannot be read or holds no plan.
    """
    found: list[tuple[str, bytes]] = []
    problems: list[Problem] = []
    for place in places:
        files = sorted(path for path in place.rglob("plan.json") if path.is_file()) if place.is_dir() else [place]
        if not files:
            problems.append(
                Problem(
                    "folder-without-plans",
                    Span(place.as_posix()),
                    "there is no plan.json in this folder or below it",
                    "there is nothing to add up",
                    "name the folder that `gauzeleaf demo` wrote to, or files of `gauzeleaf plan --format json`",
                )
            )
        for path in files:
            try:
                found.append((path.as_posix(), read_file(path, "plan")))
            except Refusal as refusal:
                problems += refusal.problems
    return found, problems


def text_files(folder: Path, pattern: str) -> dict[str, str]:
    """Text files of a room by their name within it."""
    return {
        path.relative_to(folder).as_posix(): path.read_text(encoding="utf-8") for path in sorted(folder.rglob(pattern))
    }


class Kept:
    """What one command leaves for the next, kept where Python keeps the compiled code of its modules, and as long.

    Of the tool's own files only, never of a clinic's: what lies in a clinic's folder must not be run as a program. Where
    Python may not write (a folder of somebody else's, `PYTHONDONTWRITEBYTECODE`), nothing is kept and nothing is said.
    """

    def __init__(self, folder: Path, ending: str) -> None:
        self._folder = folder
        self._ending = ending

    def read(self, name: str) -> bytes | None:
        """What is kept under a name, or None."""
        try:
            return self._place(name).read_bytes()
        except (OSError, NotImplementedError):
            return None

    def write(self, name: str, data: bytes) -> None:
        """Keep it, whole or not at all."""
        if sys.dont_write_bytecode:
            return
        with contextlib.suppress(OSError, NotImplementedError):
            place = self._place(name)
            place.parent.mkdir(parents=True, exist_ok=True)
            part = place.with_name(f"{place.name}.{os.getpid()}")
            try:
                part.write_bytes(data)
                part.replace(place)
            finally:
                part.unlink(missing_ok=True)

    def _place(self, name: str) -> Path:
        return Path(importlib.util.cache_from_source(str(self._folder / name))).with_suffix(self._ending)


def program_digest(*rooms: str) -> str | None:
    """Sha256 of the text of rooms of this program, with each file's name and the moment it was changed; None where they hold no text.

    The moment too: Python runs what it compiled before as long as moment and size agree.
    """
    digest, start = hashlib.sha256(), len(str(_HERE))
    walked = (walk for room in rooms for walk in os.walk(_HERE / room))
    found = sorted(f"{folder}{os.sep}{name}" for folder, _, names in walked for name in names if name.endswith(".py"))
    try:
        for path in found:  # a hundred files before every sheet: nothing here that a plain read does without
            with open(path, "rb", buffering=0) as file:  # noqa: PTH123
                data, changed = file.read(), os.fstat(file.fileno()).st_mtime_ns
            digest.update(f"{path[start:]}:{len(data)}:{changed}\n".encode())
            digest.update(data)
    except OSError:
        return None
    return digest.hexdigest() if found else None


def file_name(*parts: str) -> str:
    """Make one safe file name of any texts: no folder, no device, no surprise on any system."""
    words = []
    for part in parts:
        plain = unicodedata.normalize("NFKD", part).encode("ascii", "ignore").decode()
        word = re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-")
        # A name in another script still needs a file of its own.
        words.append(word or "x" + "".join(f"{ord(letter):x}" for letter in part[:6]))
    name = "-".join(words)[:120].strip("-")
    return f"x-{name}" if name.split("-")[0].lower() in _DEVICES else name


def write_whole(files: Mapping[Path, bytes], gone: Sequence[Path] = ()) -> None:
    """Write several files and take others away, all or none.

    Each is written beside its place under another name first; only when all are on disk are they moved, each in one step.
    Killed at any moment, every place holds its old file or its new one, whole. What goes is taken away last: nothing is lost
    before what replaces it is there.

    Args:
        gone: files to take away; none of them is written.
    Raises:
        Refusal: a folder cannot be written to, is full, or a place is taken by something that is no plain file.
    """
    waiting: list[tuple[Path, Path]] = []
    try:
        for place in gone:
            _must_be_plain(place)
        former = {place: place.read_bytes() if place.exists() else None for place in files} if gone else {}
        taken = {place: place.read_bytes() for place in gone}
        for place, data in files.items():
            place.parent.mkdir(parents=True, exist_ok=True)
            _must_be_plain(place)
            handle, name = tempfile.mkstemp(prefix=f".{place.name[:40]}.", suffix=".part", dir=place.parent)
            waiting.append((Path(name), place))
            with os.fdopen(handle, "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            # mkstemp makes files that only their owner can read; the others of the practice print from here too.
            Path(name).chmod(0o644)
        for part, place in waiting:
            part.replace(place)
        waiting.clear()
        _take_away(gone, former | taken)
    except OSError as error:
        where = error.filename or (str(waiting[-1][1]) if waiting else "output")
        raise Refusal(
            [
                Problem(
                    "cannot-write",
                    Span(str(where)),
                    f"the file cannot be written: {_reason(error)}",
                    "nothing was written; what lay there before is as it was",
                    "make room, allow writing there, or name another folder",
                )
            ]
        ) from None
    finally:
        for part, _ in waiting:
            with contextlib.suppress(OSError):
                part.unlink()


def _must_be_plain(place: Path) -> None:
    if place.is_symlink() or (place.exists() and not place.is_file()):
        raise Refusal(
            [
                Problem(
                    "place-taken",
                    Span(str(place)),
                    "something that is no plain file lies in this place",
                    "writing through it could change a file elsewhere",
                    "move it away, or name another folder with --output",
                )
            ]
        )


def _take_away(gone: Sequence[Path], former: Mapping[Path, bytes | None]) -> None:
    """Take files away; if one cannot be, put everything back as it was. former: what each place held, None for nothing."""
    try:
        for place in gone:
            place.unlink()
    except OSError:
        write_whole({place: data for place, data in former.items() if data is not None})
        for place, data in former.items():
            if data is None:
                place.unlink(missing_ok=True)
        raise


def _reason(error: OSError) -> str:
    return (error.strerror or type(error).__name__).lower()


def zone(name: str, span: Span) -> tzinfo:
    """The rules of a time zone, from the package that comes with the tool rather than from the computer.

    A computer's own copy can be years old, and every deadline hangs on it.

    Raises:
        Refusal: there is no such zone.
    """
    found = _zone_rules(name)
    if found is None:
        raise Refusal(
            [
                Problem(
                    "unknown-time-zone",
                    span,
                    f"`{name}` is not a time zone known here",
                    "every deadline is printed in this zone",
                    "write region/city as in the IANA list, such as `America/New_York`",
                )
            ]
        )
    return found


@cache  # asked for when the book is judged and again for every plan
def _zone_rules(name: str) -> tzinfo | None:
    try:
        import tzdata

        with Path(tzdata.__file__).parent.joinpath("zoneinfo", *name.split("/")).open("rb") as file:
            return zoneinfo.ZoneInfo.from_file(file, key=name)
    except (OSError, ValueError, ModuleNotFoundError):
        pass
    try:
        return zoneinfo.ZoneInfo(name)
    except (OSError, ValueError, zoneinfo.ZoneInfoNotFoundError):
        return None


def zone_release() -> str:
    """The release of the zone rules in use, such as `2026f`."""
    try:
        import tzdata
    except ModuleNotFoundError:
        return "the computer's own"
    return str(tzdata.IANA_VERSION)


def folders_to_make(target: Path) -> Iterator[Path]:
    """The four rooms of a clinic's own book."""
    for room in ("protocols", "templates", "locales", "output"):
        yield target / room
