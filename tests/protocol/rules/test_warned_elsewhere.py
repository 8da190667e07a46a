"""Rules R09, R10, R12: a warning may stand in the protocol itself or in the modifiers of the book."""

from __future__ import annotations

from tests.protocol.rules.slips import edited, told

NO_CAT = {"modifiers.yaml": edited("modifiers.yaml", ("  warns: Cats bear slings badly and show harm late.\n", ""))}
NO_YOUNG = {
    "modifiers.yaml": edited(
        "modifiers.yaml",
        (
            "  warns: Growing. Leave the carpus free in a Velpeau sling. Never hold the stifle straight with a femur injury.\n",
            "",
        ),
    )
}


def names(changed: dict[str, str]) -> list[tuple[str, str, str]]:
    return [(p.name, p.span.file, p.severity) for p in told(changed)]


def test_a_sling_for_cats_needs_a_warning_in_one_of_two_places() -> None:
    # VetAgro Sup: both slings are badly borne by cats.
    assert names(NO_CAT) == [("cat-not-warned-of", "velpeau-sling.yaml", "warning")]
    dogs = edited("velpeau-sling.yaml", ("species: [dog, cat]", "species: [dog]"))
    assert names(NO_CAT | {"velpeau-sling.yaml": dogs}) == []
    said = edited(
        "velpeau-sling.yaml",
        (
            "  - {do: Roll gauze round limb and chest.}",
            "  - {caution: Do not leave a cat alone with it., because: it slips out, do: Roll gauze round limb and chest.}",
        ),
    )
    assert names(NO_CAT | {"velpeau-sling.yaml": said}) == []


def test_an_ehmer_sling_is_judged_likewise() -> None:
    cats = edited("ehmer-sling.yaml", ("species: [dog]", "species: [dog, cat]"))
    assert names({"ehmer-sling.yaml": cats}) == []
    assert ("cat-not-warned-of", "ehmer-sling.yaml", "warning") in names(NO_CAT | {"ehmer-sling.yaml": cats})


def test_a_velpeau_sling_says_what_to_do_on_a_growing_animal() -> None:
    # VetAgro Sup: leave the end of the carpus free, or it contracts.
    silent = edited(
        "velpeau-sling.yaml", ('  - {do: "If the animal is growing, leave the end of the carpus free."}\n', "")
    )
    assert names({"velpeau-sling.yaml": silent}) == []
    assert names(NO_YOUNG | {"velpeau-sling.yaml": silent}) == [
        ("carpus-of-growing-animal", "velpeau-sling.yaml", "warning")
    ]
    assert names(NO_YOUNG) == []


def test_a_held_stifle_names_the_femur_injury_of_the_young() -> None:
    # Kafkas Univ Vet Fak Derg 2011;17(3):401–408: quadriceps contracture.
    silent = edited(
        "splinted-limb.yaml",
        (
            "case: a femur injury in an animal under six months, because: the thigh muscle shortens for good",
            "case: a fever, because: heat",
        ),
    )
    assert names({"splinted-limb.yaml": silent}) == []
    assert names(NO_YOUNG | {"splinted-limb.yaml": silent}) == [
        ("stifle-held-in-growing-animal", "splinted-limb.yaml", "warning")
    ]
