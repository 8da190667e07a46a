"""Plans made by hand, so that what is printed can be checked before and apart from what is reckoned.

Figures are those of the worked example for maple (a dog, left hind, 14 and 22 cm, 26 cm covered, put on the day before
the clocks change) and of kestrel (a pressure bandage at ten to two, minutes before they change).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from fractions import Fraction
from functools import cache
from pathlib import Path
from zoneinfo import ZoneInfo

from generator.protocol.animal import read_patient
from generator.protocol.book import read_book
from generator.protocol.joining import blend
from generator.protocol.model import Book, Material, Patient
from generator.reckon.plan import Alternate, Event, Figure, LayerPlan, Limb, Note, Plan
from generator.source.text import read_tree

ROOT = Path(__file__).parents[2]
ZONE = ZoneInfo("America/New_York")


@cache
def book() -> Book:
    """The demo book as it stands in the repository."""
    trees = {}
    for path in sorted((ROOT / "protocols").glob("*.yaml")):
        reading = read_tree(path.read_bytes(), f"protocols/{path.name}")
        assert reading.tree is not None
        trees[f"protocols/{path.name}"] = reading.tree
    found = read_book(trees, "protocols").book
    assert found is not None
    return found


@cache
def patient(name: str) -> Patient:
    """A patient of the demo book."""
    path = ROOT / "protocols" / "patients" / f"{name}.yaml"
    reading = read_tree(path.read_bytes(), f"protocols/patients/{path.name}")
    assert reading.tree is not None
    found = read_patient(reading.tree)[0]
    assert found is not None
    return found


@cache
def templates() -> dict[str, str]:
    """The program's own templates by name."""
    return {path.name: path.read_text(encoding="utf-8") for path in (ROOT / "templates").glob("*.j2")}


def at(text: str, fold: int = 0) -> datetime:
    """A clock time in the demo clinic's zone."""
    return datetime.fromisoformat(text).replace(tzinfo=ZONE, fold=fold)


def cm(name: str, value: str, origin: str = "formula", trust: str = "set") -> Figure:
    return Figure(name, Fraction(value), "cm", origin, trust)  # type: ignore[arg-type]


def count(name: str, value: int) -> Figure:
    return Figure(name, value, "1", "formula")


def _layer(key: str, **given: object) -> LayerPlan:
    slug = str(given.pop("slug", "padded-limb-support"))
    layer = book().protocols[slug].layer(key)
    assert layer is not None
    material: Material | None = book().stock.get(layer.material or "")
    empty = {"width": None, "passes": layer.passes, "overlap": layer.overlap, "strip": None, "need": None, "rolls_exact": None,
                 "left_over": None, "thickness": Fraction(0), "pressure": None}  # fmt: skip
    return LayerPlan(layer=layer, material=material, **(empty | given))  # type: ignore[arg-type]


@cache
def maple(language: str = "en") -> Plan:
    """The first bandage after surgery: check on a closed Sunday, change after seven days, off after fourteen."""
    support = book().protocols["padded-limb-support"]
    rolls = {
        "padding": ("7.5", "488.81", "537.69", "1.4691", 2, "194.31", Fraction(6, 5), 3),
        "conforming": ("7.5", "356.64", "313.85", "1.4123", 2, "130.6", Fraction(16, 100), 2),
        "outer": ("7.5", "239.75", "210.98", "0.9377", 1, "14.02", Fraction(12, 100), 2),
    }
    layers = [
        _layer("stirrups", width=cm("stirrups.width", "2.5"), strip=cm("stirrups.strip", "52"), need=cm("stirrups.need", "57.2"),
               rolls_exact=Fraction("0.0636"), rolls=count("stirrups.rolls", 1), left_over=cm("stirrups.left_over", "842.8"), strips=(2, Fraction(26))),
        _layer("contact", rolls=count("contact.rolls", 1), pieces=True),
    ]  # fmt: skip
    for key, (width, strip, need, exact, whole, left, thick, other) in rolls.items():
        layers.append(_layer(
            key, width=cm(f"{key}.width", width), strip=cm(f"{key}.strip", strip), need=cm(f"{key}.need", need), rolls_exact=Fraction(exact),
            rolls=count(f"{key}.rolls", whole), left_over=cm(f"{key}.left_over", left), thickness=thick,
            pressure=(Figure("outer.pressure.distal", Fraction("9.76"), "mm[Hg]", "formula", "estimated"),
                      Figure("outer.pressure.proximal", Fraction("7.22"), "mm[Hg]", "formula", "estimated")) if key == "outer" else None,
            alternate=Alternate(Fraction(5), other),
        ))  # fmt: skip
    watches = tuple(
        Event("watch", None, at(when), at(when), "home", "check_every")
        for when in (
            "2027-03-13T22:30",
            *(f"2027-03-{day}T{clock}" for day in range(14, 20) for clock in ("11:30", "23:30")),
        )
    )
    check = Event(
        "check",
        at("2027-03-13T22:30"),
        at("2027-03-14T11:30"),
        None,
        "emergency place",
        "first_check",
        "common practice",
    )
    change = Event(
        "change",
        at("2027-03-16T10:30"),
        at("2027-03-20T10:30"),
        at("2027-03-20T10:00"),
        "clinic",
        "change_every",
        "published 3",
    )
    removal = Event(
        "removal", None, at("2027-03-27T10:30"), at("2027-03-27T10:00"), "clinic", "remove_by", "common practice"
    )
    joined = blend([support])
    own = patient("maple")
    return Plan(
        book=book(), patient=replace(own, language=language), bandage=joined, now=at("2027-03-13T10:40"), applied=at("2027-03-13T10:30"),
        began=at("2027-03-13T10:30"),
        limb=Limb(cm("distal_girth", "14", trust="measured"), cm("proximal_girth", "22", trust="measured"), cm("covered_length", "26", trust="measured"), "measured"),
        layers=tuple(layers), unused=(), finished_girth=(cm("finished_girth.distal", "23.3"), cm("finished_girth.proximal", "31.3")),
        pressure=None, pressure_because="no tension is stated for conforming gauze", cost=None, limits=joined.limits, decisions=joined.decisions,
        modifiers=(), events=(*watches[:2], check, *watches[2:], change, removal), deadline=change, remove_by=removal, go_home=True,
        signs=tuple(book().signs[key] for key in joined.signs), notes=(Note("clock-change", (("day", at("2027-03-14T03:00")),)),), zone=ZONE, zone_release="2026b",
    )  # fmt: skip


@cache
def kestrel() -> Plan:
    """A pressure bandage ten minutes before the clocks change."""
    pressure = book().protocols["pressure-bandage"]
    on = at("2027-03-14T01:50")
    looks = tuple(
        Event("watch", None, when, when, "ward", "check_every")
        for when in (at("2027-03-14T01:55"), at("2027-03-14T03:00"), at("2027-03-14T03:05"))
    )
    release = Event("release", None, at("2027-03-14T03:05"), at("2027-03-14T03:05"), "ward", "release")
    removal = Event("removal", None, at("2027-03-14T03:10"), at("2027-03-14T03:10"), "ward", "remove_by")
    joined = blend([pressure])
    layers = (
        _layer("contact", slug="pressure-bandage", rolls=count("contact.rolls", 1), pieces=True),
        _layer("padding", slug="pressure-bandage", width=cm("padding.width", "7.5"), strip=cm("padding.strip", "110.4"), need=cm("padding.need", "121.44"),
               rolls_exact=Fraction("0.33"), rolls=count("padding.rolls", 1), left_over=cm("padding.left_over", "244.6"), thickness=Fraction(2, 5)),
        _layer("conforming", slug="pressure-bandage", width=cm("conforming.width", "7.5"), strip=cm("conforming.strip", "120"), need=cm("conforming.need", "105.6"),
               rolls_exact=Fraction("0.475"), rolls=count("conforming.rolls", 1), left_over=cm("conforming.left_over", "116.6"), thickness=Fraction(8, 100)),
        _layer("outer", slug="pressure-bandage", width=cm("outer.width", "7.5"), strip=cm("outer.strip", "125"), need=cm("outer.need", "110"),
               rolls_exact=Fraction("0.489"), rolls=count("outer.rolls", 1), left_over=cm("outer.left_over", "115"), thickness=Fraction(12, 100)),
    )  # fmt: skip
    return Plan(
        book=book(), patient=patient("kestrel"), bandage=joined, now=on, applied=on, began=on,
        limb=Limb(cm("distal_girth", "13", trust="measured"), cm("proximal_girth", "19", trust="measured"), cm("covered_length", "18", trust="measured"), "measured"),
        layers=layers, unused=(), finished_girth=(cm("finished_girth.distal", "16.8"), cm("finished_girth.proximal", "22.8")), pressure=None,
        pressure_because="no tension is stated for conforming gauze", cost=None, limits=joined.limits, decisions=joined.decisions, modifiers=(),
        events=(*looks, release, removal), deadline=removal, remove_by=removal, go_home=False,
        signs=tuple(book().signs[key] for key in joined.signs), notes=(Note("clock-change", (("day", at("2027-03-14T03:00")),)),), zone=ZONE, zone_release="2026b",
    )  # fmt: skip
