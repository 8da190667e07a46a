"""Several protocols joined into the one bandage that goes on, key by key.

Takes  protocols, each at its stage.
Gives  `blend`: a `Joined`; or a `Refusal` that names both lines of every conflict.
Knows  which part wins a layer; limits join in `joins.py`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generator.protocol.joins import LIMIT_KEYS, join_limits
from generator.protocol.kinds import FIRMNESS, LAYERS, PURPOSES
from generator.protocol.model import CheckEvery, Layer, Limits, OwnerText, Protocol, Refrain, Removal, Step
from generator.protocol.quantity import Limit, Window
from generator.source.problem import Problem, Refusal
from generator.source.span import Span


@dataclass(frozen=True, slots=True)
class Decision:
    """Who decided a limit: a protocol, a modifier, the house; and what it would have been."""

    key: str
    value: str
    by: str
    span: Span
    was: tuple[tuple[str, str], ...] = ()
    standing: str = ""


@dataclass(frozen=True, slots=True)
class Joined:
    """The one bandage that goes on: a single protocol, or several joined. Every text knows its author's line."""

    parts: tuple[Protocol, ...]
    title: str
    layers: tuple[Layer, ...]
    steps: tuple[Step, ...]
    limits: Limits
    decisions: tuple[Decision, ...]
    signs: tuple[str, ...]
    owner: tuple[OwnerText, ...]
    do_not_use_when: tuple[Refrain, ...]
    stored: Protocol | None = None

    @property
    def purposes(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(part.purpose for part in self.parts))

    @property
    def clinical_ends(self) -> tuple[tuple[str, Span | None], ...]:
        """What ends bandaging where no time can be given, with its line: the stored blend's own, else each part's."""
        own = self.stored.limits if self.stored is not None else None
        named = [own] if own is not None and own.remove_when else [part.limits for part in self.parts]
        return tuple((limits.remove_when, limits.spans.get("remove_when")) for limits in named if limits.remove_when)

    @property
    def supplies(self) -> tuple[tuple[str, Span], ...]:
        """What to have ready besides the layers' materials, none twice; each with the file that says so."""
        return self._told("supplies")

    @property
    def review(self) -> tuple[tuple[str, Span], ...]:
        """What to ask at each change: the stored blend's own questions, else those of each part."""
        return self._told("review")

    def _told(self, key: str) -> tuple[tuple[str, Span], ...]:
        own = (self.stored,) if self.stored is not None and getattr(self.stored, key) else self.parts
        said: dict[str, Span] = {}
        for protocol in own:
            for text in getattr(protocol, key):
                said.setdefault(text, protocol.span(key))
        return tuple(said.items())

    @property
    def is_haemorrhage(self) -> bool:
        return "haemorrhage" in self.purposes


# Which contact layer asks for more: one that is always laid, then one over any break of the skin.
_DEMAND = {None: 0, "incision or wound": 1, "wound": 2}


def blend(parts: Sequence[Protocol], stored: Protocol | None = None) -> Joined:
    """Join protocols into one bandage.

    Args:
        parts: one or more, each at its stage; their order does not matter.
        stored: the stored blend they come from, with its own tightening and settled conflicts.
    Raises:
        Refusal: a conflict for which the trade has no rule, or a part that is never joined.
    """
    ordered = sorted({part.name: part for part in parts}.values(), key=lambda p: (PURPOSES.index(p.purpose), p.name))
    problems = list(_never_joined(ordered))
    if problems:
        raise Refusal(problems)
    winners: dict[str, tuple[Protocol, Layer]] = {}
    decisions: list[Decision] = []
    for key in LAYERS:
        held = [(part, layer) for part in ordered if (layer := part.layer(key)) is not None]
        if not held:
            continue
        winner = _winner(key, held, ordered, stored, problems)
        winners[key] = winner
        if len(held) > 1:
            part, layer = winner
            others = tuple((other.name, _said(rival)) for other, rival in held if other is not part)
            decisions.append(
                Decision(
                    f"layer {key}", _said(layer), part.name, layer.spans["layer"], others, "trade order of precedence"
                )
            )
    if problems:
        raise Refusal(problems)
    limits = ordered[0].limits
    for part in ordered[1:]:
        limits = join_limits(limits, part.limits)
    if stored is not None:
        limits = join_limits(limits, stored.limits)
        if stored.limits.remove_when is not None:
            # The blend was written for one end of its own; those of its parts belong to what comes after it.
            limits = replace(limits, remove_when=stored.limits.remove_when)
    return Joined(
        parts=tuple(ordered),
        title=stored.title if stored else " + ".join(_title(part) for part in ordered),
        layers=tuple(layer for _, layer in winners.values()),
        steps=stored.steps
        if stored and stored.steps
        else _steps(ordered, {key: part for key, (part, _) in winners.items()}),
        limits=limits,
        decisions=tuple(decisions),
        signs=tuple(dict.fromkeys(sign for part in ordered for sign in part.signs)),
        owner=(stored.owner,)
        if stored is not None and stored.owner is not None
        else tuple(part.owner for part in ordered if part.owner is not None),
        do_not_use_when=tuple(case for part in ordered for case in part.do_not_use_when),
        stored=stored,
    )


def _title(part: Protocol) -> str:
    return f"{part.title} ({part.stage})" if part.stage else part.title


def _said(layer: Layer) -> str:
    words = [layer.material or layer.layer]
    if layer.passes:
        words.append(f"{layer.passes} pass{'es' if layer.passes != 1 else ''}")
    if layer.firmness:
        words.append(layer.firmness)
    return ", ".join(words)


def _never_joined(parts: Sequence[Protocol]) -> Iterator[Problem]:
    if len(parts) < 2:
        return
    for part in parts:
        if part.purpose == "haemorrhage":
            yield Problem(
                "haemorrhage-blended",
                part.span("kind"),
                f"`{part.name}` stops bleeding and cannot be joined with another bandage",
                "its minutes are counted by another clock; joined, it would stay on too long",
                f"plan it alone, and the bandage after it with `--then`: `--protocol {part.protocol} --then …`",
            )
    slings = [part for part in parts if part.purpose == "sling"]
    if len(slings) > 1:
        yield Problem(
            "two-slings",
            slings[0].span("kind"),
            f"`{slings[0].name}` and `{slings[1].name}` are two slings",
            "each holds the limb in another place; together they hold it in neither",
            "choose one; the attending veterinarian decides",
            also=((slings[1].span("kind"), "the other sling"),),
        )
    # An incision is a wound too: closed, and still to be seen.
    wounds = [
        part
        for part in parts
        if (part.purpose == "wound" or part.kind == "cover.wound") and part.limits.change_every is not None
    ]
    for sling in slings:
        if wounds and sling.limits.change_every is None:
            wound = wounds[0]
            yield Problem(
                "sling-cannot-be-opened",
                wound.limits.spans["change_every"],
                f"the wound under `{sling.name}` must be seen, and that sling is not opened before it comes off",
                "a wound that nobody sees goes bad under the sling",
                f"choose another sling, or give `{sling.name}` a `change_every`",
                also=((sling.span("limits:"), "this sling sets no change"),),
            )


def _winner(
    key: str,
    held: list[tuple[Protocol, Layer]],
    parts: Sequence[Protocol],
    stored: Protocol | None,
    problems: list[Problem],
) -> tuple[Protocol, Layer]:
    """The part whose layer goes on. Sources: wound stage decides contact (Campbell 2015); even, thin padding under a splint
    (common practice); outer wrap as light as serves (K9 guideline 14)."""
    for settled in stored.settles if stored else ():
        for part, layer in held:
            if settled.key in (key, f"layer {key}") and settled.part in (part.name, part.protocol):
                return part, layer
    kinds = {part.kind for part in parts}
    slings = [pair for pair in held if pair[0].purpose == "sling"]
    wounds = [pair for pair in held if pair[0].purpose == "wound"]
    if key == "contact":
        chosen = wounds or held
        best = min(chosen, key=lambda pair: (_DEMAND[pair[1].needed_if], pair[0].name))
        for part, layer in chosen:
            if layer.material != best[1].material and _DEMAND[layer.needed_if] == _DEMAND[best[1].needed_if]:
                problems.append(_conflict(key, best, (part, layer), "two contact layers cannot both touch the wound"))
        return best
    if key == "stirrups":
        part, layer = max(held, key=lambda pair: (pair[1].count or 2, pair[1].length or 0, pair[0].name))
        tapes = [other.on_skin_at_most for _, other in held if other.on_skin_at_most is not None]
        for tape in tapes:
            layer = replace(layer, on_skin_at_most=tape.join(layer.on_skin_at_most) if layer.on_skin_at_most else tape)
        return part, layer
    if slings and any(pair[1].rolls for pair in slings):
        # The sling's turns are a shape of their own; what serves the wound lies under them.
        held = slings
    if key == "padding":
        rigid = [pair for pair in held if pair[0].kind in ("support.splint", "support.cast")]
        heavy = [pair for pair in held if pair[0].kind == "support.heavy"]
        if rigid and heavy:
            problems.append(
                _conflict(key, heavy[0], rigid[0], "bulk lets a splint move, and a heavy bandage is all bulk")
            )
        return max(rigid or heavy or held, key=lambda pair: (pair[1].passes or 0, pair[1].overlap or 0, pair[0].name))
    if key == "splint":
        best = held[0]
        for other in held[1:]:
            if other[1].material != best[1].material:
                problems.append(_conflict(key, best, other, "two different splints cannot both be laid"))
        return best
    if key == "conforming" and "support.heavy" in kinds:
        return max((p for p in held if p[0].kind == "support.heavy"), key=lambda p: p[0].name, default=held[0])
    return min(held, key=lambda pair: (_tightness(pair[1]), -(pair[1].passes or 0), pair[0].name))


def _tightness(layer: Layer) -> int:
    return FIRMNESS.index(layer.tightness) if layer.tightness in FIRMNESS else len(FIRMNESS)


def _conflict(key: str, one: tuple[Protocol, Layer], other: tuple[Protocol, Layer], why: str) -> Problem:
    return Problem(
        "blend-conflict",
        one[1].spans["layer"],
        f"`{one[0].name}` and `{other[0].name}` ask for different {key} layers",
        why,
        f"the clinician decides: store the blend with `settles: [{{key: {key}, part: {one[0].protocol}, decided_by: …, why: …}}]`",
        also=((other[1].spans["layer"], f"the {key} layer of `{other[0].name}`"),),
    )


def _steps(parts: Sequence[Protocol], winners: dict[str, Protocol]) -> tuple[Step, ...]:
    """The steps of all parts, layer by layer; a layer is laid as its winner says."""
    if len(parts) == 1:
        return parts[0].steps
    placed: list[tuple[int, int, int, Step]] = []
    for number, part in enumerate(parts):
        at = 0
        for index, step in enumerate(part.steps):
            if step.layer is not None:
                at = LAYERS.index(step.layer)
                if winners.get(step.layer) not in (None, part):
                    continue
            placed.append((at, number, index, step))
    placed.sort(key=lambda row: row[:3])
    seen: dict[tuple[str | None, ...], Step] = {}
    for *_, step in placed:
        seen.setdefault((step.do, step.caution, step.check), step)
    return tuple(seen.values())


def decided(contributors: Sequence[tuple[str, Limits]], joined: Limits) -> tuple[Decision, ...]:
    """Who decided each limit: the first contributor whose own value is the joined one, or who gave its later end."""
    decisions = []
    for key in LIMIT_KEYS:
        final = getattr(joined, key)
        given = [
            (name, getattr(limits, key), limits) for name, limits in contributors if getattr(limits, key) is not None
        ]
        if final is None or not given:
            continue
        name, _, limits = next((row for row in given if _binding(row[1]) == _binding(final)), given[0])
        others = tuple((other, _shown(v)) for other, v, _ in given if other != name and v != final)
        decisions.append(
            Decision(key, _shown(final), name, limits.spans.get(key) or limits.spans.get("") or Span(name), others)
        )
    return tuple(decisions)


def _binding(value: object) -> object:
    """What of a limit binds: its later end, its interval, its plain end."""
    if isinstance(value, Window):
        return value.upper.shortest
    if isinstance(value, CheckEvery):
        return value.interval.shortest
    if isinstance(value, Removal):
        return value.plain.shortest if value.plain else value
    return value.shortest if isinstance(value, Limit) else value


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    interval = getattr(value, "interval", None)
    return f"{interval} by {getattr(value, 'who', '')}" if interval else str(value)
