"""`gauzeleaf demo`: the main job on an invented clinic, with the clock frozen."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import click

from generator import binding, flow, opening, shelf
from generator.cli.common import output_option
from generator.cli.patient import tree_of
from generator.source.problem import Refusal


@dataclass(frozen=True)
class Scene:
    """One patient of the demo: its file, its protocols, the moment the papers are printed, and what it shows."""

    patient: str
    protocols: tuple[str, ...]
    now: str
    shows: str
    then: tuple[str, ...] = ()


SCENES = (
    Scene(
        "maple",
        ("padded-limb-support",),
        "2027-03-13T10:40",
        "a measured limb, the night the clocks change, an owner who reads Spanish",
    ),
    Scene(
        "juniper",
        ("open-wound@proliferative",),
        "2027-03-10T15:50",
        "a cat; the wound is re-bandaged, the course goes on",
    ),
    Scene("pollen", ("splinted-limb",), "2027-03-12T16:20", "a growing dog: changed sooner"),
    Scene(
        "brindle",
        ("open-fracture-before-fixation",),
        "2027-03-13T12:30",
        "two protocols in one bandage; the stricter limit counts",
    ),
    Scene(
        "kestrel",
        ("pressure-bandage",),
        "2027-03-14T01:51",
        "bleeding: minutes, watched, no owner's sheet; the bandage after it by a second clock",
        then=("open-wound@inflammatory",),
    ),
    Scene("rowan", ("velpeau-sling",), "2027-03-11T11:10", "put on again: the end still counts from the first one"),
    Scene("sorrel", ("padded-limb-support",), "2027-04-06T09:50", "nobody measured: every girth is an estimate"),
)
# A measured limb, a wound that chose its dressing, a pressure bandage.
WITH_WORKINGS = ("maple", "juniper", "kestrel")
BINDER_NOW = "2027-03-15T09:00"


@click.command("demo", epilog="Example: gauzeleaf demo")
@output_option
def command(output: Path) -> None:
    """Print binder, owners' sheets (on paper and for a phone), floor cards, workings, calendars and plans of an invented clinic."""
    opened = opening.open_book(shelf.shipped("protocols").as_posix())
    files: dict[Path, bytes] = {}
    refusals: list[str] = []
    for scene in SCENES:
        follows = f", then {', '.join(scene.then)}" if scene.then else ""
        click.echo(f"{scene.patient:9} {', '.join(scene.protocols)}{follows}: {scene.shows}")
        _papers(opened, scene, output, files, refusals)
    click.echo("binder    every protocol of the book")
    files[output / "binder.pdf"] = flow.press(binding.binder(opened, datetime.fromisoformat(BINDER_NOW)))
    shelf.write_whole(files)
    _summary(output, files, refusals)


def _papers(
    opened: opening.OpenBook, scene: Scene, output: Path, files: dict[Path, bytes], refusals: list[str]
) -> None:
    now = datetime.fromisoformat(scene.now)
    chosen = flow.choose(opened, scene.protocols)
    patient = flow.patient_from(tree_of(opened.folder / "patients" / f"{scene.patient}.yaml", {}))
    then = flow.choose(opened, scene.then, "--then") if scene.then else None
    plan = flow.make_plan(opened, chosen, patient, now, then)
    folder = output / scene.patient
    files[folder / "plan.json"] = (json.dumps(flow.plan_data(plan), ensure_ascii=False, indent=2) + "\n").encode()
    card = flow.card(opened, plan)
    files[folder / f"{flow.name_of(plan, 'card', card)}.pdf"] = flow.press(card)
    if scene.patient in WITH_WORKINGS:
        workings = flow.workings(opened, plan)
        files[folder / f"{flow.name_of(plan, 'workings', workings)}.pdf"] = flow.press(workings)
    change = flow.change_card(opened, plan)
    if change is not None:
        files[folder / f"{flow.name_of(plan, 'change-card')}.pdf"] = flow.press(change)
    try:
        for sheet, copy in flow.sheets(opened, plan, [None], clinic_copy=True):
            name = flow.name_of(plan, "clinic-copy" if copy else "sheet", sheet)
            files[folder / f"{name}.pdf"] = flow.press(sheet)
            if not copy:
                files[folder / f"{name}.html"] = flow.browser(sheet)
        files[folder / f"{flow.name_of(plan, 'visits')}.ics"] = flow.visits(opened, plan)
    except Refusal as refusal:
        refusals += [f"{scene.patient}: no owner's sheet: {problem.what}" for problem in refusal.problems]


def _summary(output: Path, files: dict[Path, bytes], refusals: list[str]) -> None:
    click.echo(f"\n{len(files)} files in {output.as_posix()}/. Open first:")
    for place in files:
        if "-sheet-" in place.name or "-card" in place.name or place.name == "binder.pdf":
            click.echo(f"  {place.as_posix()}")
    for line in refusals:
        click.echo(f"Refused, as it must be: {line}")
    click.echo("Everything in them is invented. Every estimate says so; the attending veterinarian decides.")
