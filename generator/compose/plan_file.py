"""Read plans back from the data that `data.py` writes.

Takes  the bytes of plan.json files, by name.
Gives  what each plan needs from the shelf; or every problem, one a file.
Knows  the contract of the first form of a plan, older files of which lack the keys added since; believes nothing else in a file.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any

from generator.compose import hand
from generator.compose.data import VERSION
from generator.protocol.kinds import LAYERS
from generator.reckon.order_list import Money, Need, PlanNeeds
from generator.source.problem import Problem, Refusal
from generator.source.span import Span

_AGAIN = "write it again with `gauzeleaf plan … --format json`"
_NO_ORDER = "an order added up from it would be short, or too large, and nobody would see it"
# More of anything than this is a slip of the keyboard, not a bandage.
_MOST, _WIDEST = 9999, 1000


def read_plans(files: Sequence[tuple[str, bytes]]) -> tuple[tuple[PlanNeeds, ...], tuple[Problem, ...]]:
    """Read every file.

    Returns:
        The plans in the order of the files; one error for each file that cannot be read as a plan or repeats another, and
        warnings. With an error among them the plans are not all of them.
    """
    plans: list[PlanNeeds] = []
    problems: list[Problem] = []
    for name, data in files:
        try:
            plans.append(_plan(_json(data, name), name))
        except Refusal as refusal:
            problems += refusal.problems
    return tuple(plans), (*problems, *_repeated(plans), *_same_bandage(plans))


def printable(text: str) -> str:
    """A file may come from anywhere: nothing in it moves the cursor or hides a line."""
    return "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in text)


def _refused(name: str, span: Span, what: str, why: str, fix: str) -> Refusal:
    return Refusal([Problem(name, span, what, why, fix)])


def _json(data: bytes, name: str) -> Any:
    def once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        keys = [key for key, _ in pairs]
        twice = next((key for key in keys if keys.count(key) > 1), None)
        if twice is not None:
            raise _refused("key-twice", Span(name), f"`{twice}` stands twice in one group", "nobody can tell which of the two counts", _AGAIN)  # fmt: skip
        return dict(pairs)

    def no_number(text: str) -> Any:
        raise ValueError(f"{text} is no number")

    try:
        # Redirected on some systems a file becomes UTF-16, which the standard allows no more but everybody still reads.
        text = data.decode(json.detect_encoding(data))
        return json.loads(text.lstrip("\ufeff"), parse_float=Decimal, parse_constant=no_number, object_pairs_hook=once)
    except json.JSONDecodeError as error:
        raise _refused("json-broken", Span(name, error.lineno, error.colno), f"this is not JSON: {_lower(error.msg)}", _NO_ORDER, _AGAIN) from None  # fmt: skip
    except UnicodeDecodeError:
        raise _refused(
            "not-utf-8", Span(name), "this file is not written in UTF-8", "names in it would be read wrong", _AGAIN
        ) from None
    except (ValueError, RecursionError) as error:
        what = "too deeply nested" if isinstance(error, RecursionError) else _lower(str(error).splitlines()[0])
        raise _refused("json-broken", Span(name), f"this is not JSON: {what}", _NO_ORDER, _AGAIN) from None


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]


def _plan(data: Any, name: str) -> PlanNeeds:
    span = Span(name)
    if not isinstance(data, dict) or "plan" not in data:
        held = "problems that were found" if isinstance(data, dict) and "problems" in data else "something else"
        raise _refused(
            "not-a-plan",
            span,
            f"this file holds {held}, and no plan",
            "there is nothing to order for a bandage that was not planned",
            "name files written by `gauzeleaf plan … --format json`, or folders of them",
        )
    if data["plan"] != VERSION or isinstance(data["plan"], bool):
        raise _refused("plan-of-another-form", span, f"this plan is of form {_shown(data['plan'])}; form {VERSION} is read here",
                       "a key that means something else there would be added up wrong", "plan again with this release, or add these up with the one that wrote them")  # fmt: skip
    reader = _Reader()
    plan = reader.plan(data, name)
    if reader.wrong:
        raise _refused("plan-damaged", span, "missing or not as a plan is written: " + ", ".join(f"`{key}`" for key in reader.wrong[:6])
                       + (f" and {len(reader.wrong) - 6} more" if len(reader.wrong) > 6 else ""), _NO_ORDER, _AGAIN)  # fmt: skip
    return plan


def _shown(value: Any) -> str:
    return f"`{printable(str(value)[:20])}`" if isinstance(value, str | int | Decimal) else "unknown"


class _Reader:
    """Takes values out of a plan; whatever is not as it should be is noted by its path, and a stand-in taken."""

    def __init__(self) -> None:
        self.wrong: list[str] = []

    def plan(self, data: dict[str, Any], name: str) -> PlanNeeds:
        patient = self.group(data, "patient", "")
        protocols = [
            self.text(one, "slug", f"protocols[{i}].")
            + (f"@{one['stage']}" if isinstance(one.get("stage"), str) else "")
            for i, one in enumerate(self.rows(data, "protocols", ""))
        ]
        limb = self.group(data, "limb", "")
        guessed = limb.get("trust") == "estimated"
        events = [self.text(one, "kind", f"events[{i}].") for i, one in enumerate(self.rows(data, "events", ""))]
        if "remove_by" not in data:
            self.wrong.append("remove_by")
        return PlanNeeds(
            name, self.text(data, "sheet", ""), self.text(patient, "name", "patient."), self.text(patient, "species", "patient."),
            self.text(patient, "site", "patient."), tuple(protocols), self.moment(data, "applied"), events.count("change"),
            data.get("remove_by") is None,
            tuple(self.need(one, f"layers[{i}].", guessed) for i, one in enumerate(self.rows(data, "layers", ""))),
        )  # fmt: skip

    def need(self, data: dict[str, Any], at: str, guessed: bool) -> Need:
        layer = self.text(data, "layer", at)
        if layer not in LAYERS and layer:
            self.wrong.append(f"{at}layer")
        width = self.width(data.get("width_cm"), f"{at}width_cm") if data.get("width_cm") is not None else None
        # Older plans of this form lack both keys. A piece was what has no width.
        unit = data.get("unit", "roll" if width is not None else "piece")
        trust = data.get("trust", "estimated" if guessed and data.get("need_cm") is not None else "set")
        if unit not in ("roll", "piece"):
            self.wrong.append(f"{at}unit")
        if trust not in ("measured", "estimated", "set"):
            self.wrong.append(f"{at}trust")
        return Need(
            layer, self.text(data, "material", at) if data.get("material") is not None else None, width,
            self.text(data, "size", at) if data.get("size") is not None else None, unit, self.count(data, "rolls", at),
            self.price(data.get("price"), f"{at}price"), trust == "estimated",
            tuple(self.width(one, f"{at}stocked_widths_cm") for one in self.items(data, "stocked_widths_cm", at)),
            tuple(self.text({"size": one}, "size", f"{at}stocked_sizes: ") for one in self.items(data, "stocked_sizes", at)),
        )  # fmt: skip

    def text(self, data: dict[str, Any], key: str, at: str) -> str:
        value = data.get(key)
        if not isinstance(value, str) or not value.strip():
            self.wrong.append(f"{at}{key}")
            return ""
        return value

    def group(self, data: dict[str, Any], key: str, at: str) -> dict[str, Any]:
        value = data.get(key)
        if not isinstance(value, dict):
            self.wrong.append(f"{at}{key}")
            return {}
        return value

    def rows(self, data: dict[str, Any], key: str, at: str) -> list[dict[str, Any]]:
        value = data.get(key)
        if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
            self.wrong.append(f"{at}{key}")
            return []
        return value

    def items(self, data: dict[str, Any], key: str, at: str) -> list[Any]:
        value = data.get(key, [])
        if not isinstance(value, list):
            self.wrong.append(f"{at}{key}")
            return []
        return value

    def count(self, data: dict[str, Any], key: str, at: str) -> int:
        value = data.get(key)
        if not isinstance(value, int) or isinstance(value, bool) or not 0 <= value <= _MOST:
            self.wrong.append(f"{at}{key}")
            return 0
        return value

    def width(self, value: Any, at: str) -> Fraction:
        if not isinstance(value, int | Decimal) or isinstance(value, bool) or not 0 < value < _WIDEST:
            self.wrong.append(at)
            return Fraction(1)
        return Fraction(value)

    def price(self, value: Any, at: str) -> Money | None:
        if value is None:
            return None
        each, currency = (value.get("each"), value.get("currency")) if isinstance(value, dict) else (None, None)
        if (
            not isinstance(each, str) or not re.fullmatch(r"[0-9]{1,6}(\.[0-9]{1,2})?", each, re.A)
            or not isinstance(currency, str) or not re.fullmatch(r"[A-Z]{3}", currency)
        ):  # fmt: skip
            self.wrong.append(at)
            return None
        return Decimal(each), currency

    def moment(self, data: dict[str, Any], key: str) -> datetime:
        try:
            return datetime.fromisoformat(self.text(data, key, "") or "0001-01-01T00:00")
        except ValueError:
            self.wrong.append(key)
            return datetime.min  # noqa: DTZ901


def _repeated(plans: Sequence[PlanNeeds]) -> list[Problem]:
    """A sheet number names exactly one plan: what stands twice would be ordered twice."""
    first: dict[str, PlanNeeds] = {}
    problems = []
    for plan in plans:
        before = first.setdefault(plan.sheet, plan)
        if before is not plan:
            problems.append(
                Problem(
                    "plan-twice", Span(plan.file), printable(f"sheet {plan.sheet} ({plan.patient}) was read already"),
                    "its rolls would be ordered twice", "name each plan once: a folder brings every plan.json below it",
                    also=((Span(before.file), "the same sheet"),),
                )
            )  # fmt: skip
    return problems


def _same_bandage(plans: Sequence[PlanNeeds]) -> list[Problem]:
    """Planned again after measuring or a slip, one bandage has two sheets."""
    first: dict[tuple[str, str, datetime], PlanNeeds] = {}
    problems = []
    for plan in plans:
        before = first.setdefault((plan.patient, plan.site, plan.applied), plan)
        if before is not plan and before.sheet != plan.sheet:
            when = hand.moment(plan.applied).replace(hand.NO_BREAK, " ")
            problems.append(
                Problem(
                    "bandage-twice", Span(plan.file), printable(f"{plan.patient}, {plan.site}, {when} has two plans, {before.sheet} and {plan.sheet}; both are counted"),
                    "planned again after measuring, only the later one goes on", "leave out the one that does not count",
                    "warning", ((Span(before.file), "the other plan"),),
                )
            )  # fmt: skip
    return problems
