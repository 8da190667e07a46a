"""Rules R13, R20 to R23, R25, R26, R34, R39: what is laid, of what, how often and how firmly."""

from __future__ import annotations

import pytest

from tests.protocol.rules.slips import Fine, Slip

FOOT_CONTACT = (
    "{layer: contact, material: low-adherent pad, count: 1, size: 5 cm by 5 cm, needed_if: incision or wound}"
)
PAD = "  - {layer: padding, material: cast padding, passes: 3, overlap: 50 %, firmness: even}\n"
GAUZE = "  - {layer: conforming, material: conforming gauze, passes: 2, overlap: 50 %, inset: 2 cm, firmness: snug}\n"
OUTER = "  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light}\n"
SPLINT = "  - {layer: splint, material: gutter splint, count: 1}\n"
STAGED_PAD = "      - {layer: padding, material: cast padding, passes: 2, overlap: 50 %, firmness: even}\n"
STAGED_GAUZE = (
    "      - {layer: conforming, material: conforming gauze, passes: 2, overlap: 50 %, inset: 2 cm, firmness: light}\n"
)
STAGED_OUTER = "      - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light}\n"
NET = "      - {layer: contact, material: silicone net, count: 1}\n"

SLIPS = (
    # R13. Campbell 2015; K9 guideline 14; WSAVA 2018 p. 572: adherent contact strips granulation and epithelium.
    Slip(
        "open-wound.yaml",
        "material: foam sheet",
        "material: wet gauze",
        "adherent-contact",
        "material: wet gauze",
        says="wet-to-dry",
    ),
    Slip("open-wound.yaml", "material: silicone net", "material: wet gauze", "adherent-contact", "material: wet gauze"),
    Slip(
        "open-wound.yaml",
        "material: sterile pad, count: 1",
        "material: wet gauze, count: 1",
        "adherent-contact",
        "material: wet gauze",
        says="no reason",
    ),
    Slip(
        "open-wound.yaml",
        "material: sterile pad, count: 1",
        "material: wet gauze, count: 1, because: the clinician asked for it",
        "adherent-contact-used",
        "material: wet gauze",
        "warning",
    ),
    # R20. Direction: Thomas 2003; the quarter is a house rule: 20 cm / 4 = 5 cm.
    Slip(
        "soft-padded.yaml",
        OUTER,
        OUTER.replace("passes: 1", "width: {under 20 cm: 5 cm, 20 cm and over: 2.5 cm}, passes: 1"),
        "elastic-too-narrow",
        "layer: outer",
        "warning",
        "5 cm",
    ),
    # R21. Anderson and White 2000; Zeltzman.
    Slip(
        "open-wound.yaml", NET + STAGED_PAD, NET, "elastic-without-padding", NET + STAGED_GAUZE + STAGED_OUTER.rstrip()
    ),
    Slip("closed-wound.yaml", PAD.replace("3", "2", 1), "", "elastic-without-padding", "layer: outer"),
    # R22. The table of layers by kind.
    Slip("soft-padded.yaml", PAD, "", "layer-missing", "layers:", says="padding"),
    Slip(
        "soft-padded.yaml",
        "  - {layer: stirrups, material: porous tape, width: 2.5 cm, count: 2, on_skin_at_most: 7 d}\n",
        "",
        "layer-missing",
        "layers:",
        says="stirrups",
    ),
    Slip("splinted-limb.yaml", SPLINT, "", "layer-missing", "layers:", says="splint"),
    Slip(
        "pressure-bandage.yaml",
        "layers:\n",
        "layers:\n  - {layer: stirrups, material: porous tape, count: 2}\n",
        "layer-forbidden",
        "layer: stirrups",
    ),
    Slip("foot-bandage.yaml", OUTER, SPLINT + OUTER, "layer-forbidden", "layer: splint"),
    # R23. Layers out of order are a recognised cause of harm (common practice).
    Slip(
        "soft-padded.yaml",
        PAD + GAUZE,
        GAUZE + PAD,
        "layer-out-of-order",
        GAUZE + PAD.rstrip(),
        says="stirrups, contact, padding",
    ),
    Slip("splinted-limb.yaml", GAUZE + SPLINT, SPLINT + GAUZE, "layer-out-of-order", SPLINT + GAUZE.rstrip()),
    Slip("soft-padded.yaml", PAD, PAD + PAD, "layer-twice", PAD + PAD.rstrip()),
    # R25. Rolls are reckoned from passes and overlap, or stated by weight.
    Slip(
        "soft-padded.yaml", "passes: 3, overlap: 50 %", "passes: 3", "passes-missing", "passes: 3", says="no `overlap`"
    ),
    Slip(
        "soft-padded.yaml",
        "passes: 3, overlap: 50 %",
        "overlap: 50 %",
        "passes-missing",
        "layer: padding",
        says="no `passes`",
    ),
    Slip("soft-padded.yaml", "passes: 3, overlap: 50 %, ", "", "passes-missing", "layer: padding", says="neither"),
    Slip(
        "soft-padded.yaml",
        "passes: 3, overlap: 50 %",
        "passes: 3, overlap: 50 %, rolls: {2 kg and over: 1}",
        "passes-and-rolls",
        "layer: padding",
    ),
    Slip(
        "soft-padded.yaml",
        "passes: 3, overlap: 50 %",
        "overlap: 50 %, rolls: {2 kg and over: 1}",
        "passes-and-rolls",
        "layer: padding",
        says="`overlap`",
    ),
    Slip(
        "ehmer-sling.yaml",
        "firmness: snug",
        "firmness: snug, inset: 2 cm",
        "key-of-another-layer",
        "layer: outer",
        says="inset",
    ),
    Slip(
        "soft-padded.yaml", "passes: 3", "passes: 3, count: 2", "key-of-another-layer", "layer: padding", says="`count`"
    ),
    Slip(
        "soft-padded.yaml",
        "passes: 3",
        "passes: 3, needed_if: wound",
        "key-of-another-layer",
        "layer: padding",
        says="`needed_if`",
    ),
    Slip("soft-padded.yaml", "passes: 3", "passes: 3, on_skin_at_most: 7 d", "key-of-another-layer", "layer: padding"),
    Slip(
        "soft-padded.yaml",
        "count: 2, on_skin",
        "count: 2, inset: 2 cm, on_skin",
        "key-of-another-layer",
        "layer: stirrups",
        says="`inset`",
    ),
    Slip(
        "splinted-limb.yaml",
        "material: gutter splint, ",
        "material: gutter splint, passes: 1, ",
        "passes-missing",
        "passes: 1",
        says="no `overlap`",
    ),
    Slip("soft-padded.yaml", "count: 2, on_skin", "on_skin", "stirrup-count", "layer: stirrups", says="count: 2"),
    Slip(
        "soft-padded.yaml", "count: 2, on_skin", "count: 1, on_skin", "stirrup-count", "layer: stirrups", says="single"
    ),
    # R26. A wound bandage never adds compression (K9 guideline 14); the chest stays free (VetAgro Sup).
    Slip(
        "soft-padded.yaml",
        "firmness: snug",
        "firmness: nicely",
        "firmness-unknown",
        "layer: conforming",
        says="light, snug, moderate, firm, tight",
    ),
    Slip(
        "soft-padded.yaml", "firmness: snug", "firmness: tigth", "firmness-unknown", "layer: conforming", says="`tight`"
    ),
    Slip("soft-padded.yaml", ", firmness: snug", "", "firmness-missing", "layer: conforming", "warning"),
    Slip("closed-wound.yaml", "firmness: light", "firmness: firm", "outer-too-firm", "layer: outer"),
    Slip(
        "foot-bandage.yaml",
        "firmness: light",
        "firmness: tight at the top",
        "outer-too-firm",
        "layer: outer",
        says="tight",
    ),
    Slip("velpeau-sling.yaml", "firmness: light", "firmness: snug", "outer-too-firm", "layer: outer", says="chest"),
    # R34. Rolls are fetched from stock.yaml.
    Slip(
        "soft-padded.yaml",
        "material: cast padding",
        "material: cast pading",
        "material-unknown",
        "layer: padding",
        says="`cast padding`",
    ),
    Slip(
        "soft-padded.yaml",
        "material: cast padding, ",
        "",
        "material-missing",
        "layer: padding",
        says="cast padding, roll cotton",
    ),
    Slip(
        "open-wound.yaml",
        "material: foam sheet, ",
        "",
        "material-missing",
        "{layer: contact, count: 1}",
        says="foam sheet",
    ),
    Slip(
        "soft-padded.yaml",
        "material: cohesive wrap",
        "material: cast slab",
        "material-of-another-layer",
        "layer: outer",
        says="splint material",
    ),
    Slip(
        "soft-padded.yaml",
        "size: 5 cm by 5 cm",
        "size: 9 cm by 9 cm",
        "size-unknown",
        "layer: contact",
        says="5 cm by 5 cm, 10 cm by 10 cm",
    ),
    Slip(
        "soft-padded.yaml",
        "width: 2.5 cm",
        "width: 4 cm",
        "width-not-stocked",
        "layer: stirrups",
        "warning",
        "2.5 cm, 5 cm",
    ),
    # R39. Birchard 2014 (sugar 24 h); Campbell 2015 (alginate 2-3 d); plain pads daily: K9 guideline 14, Birchard.
    Slip(
        "open-wound.yaml",
        "change_every: 12 h to 24 h",
        "change_every: 24 h to 25 h",
        "contact-left-too-long",
        "change_every: 24 h to 25 h",
        says="published 31, 37",
    ),
    Slip(
        "foot-bandage.yaml",
        FOOT_CONTACT,
        "{layer: contact, material: sugar, count: 1}",
        "contact-left-too-long",
        "change_every: 48 h",
        says="published 37",
    ),
    Slip(
        "open-wound.yaml",
        "material: silicone net",
        "material: alginate sheet",
        "contact-left-too-long",
        "change_every: 4 d",
        says="72 h",
    ),
)

FINE = (
    # A contact layer that is only sometimes needed may leave the material to the clinician.
    Fine("soft-padded.yaml", "material: low-adherent pad, count: 1, size: 5 cm by 5 cm, needed_if", "needed_if"),
    # A 2 in roll is what the trade calls 5 cm.
    Fine("soft-padded.yaml", "passes: 3", "width: 5 cm, passes: 3"),
    Fine("soft-padded.yaml", "firmness: snug", 'firmness: "Snug, even"'),
    Fine(
        "soft-padded.yaml",
        OUTER,
        OUTER.replace("passes: 1", "width: {under 20 cm: 5 cm, 20 cm and over: 5 cm}, passes: 1"),
    ),
    # An inelastic outer layer needs no padding under it.
    Fine(
        "open-wound.yaml",
        NET + STAGED_PAD + STAGED_GAUZE + STAGED_OUTER,
        NET
        + STAGED_GAUZE
        + STAGED_OUTER.replace("cohesive wrap", "drape").replace("passes: 1", "width: 10 cm, passes: 1"),
    ),
    Fine("open-wound.yaml", "change_every: 12 h to 24 h", "change_every: 12 h to 1440 min"),
    Fine("foot-bandage.yaml", FOOT_CONTACT, "{layer: contact, material: alginate sheet, count: 1}"),
)


@pytest.mark.parametrize("slip", SLIPS, ids=str)
def test_one_slip_brings_one_problem_at_its_line(slip: Slip) -> None:
    slip.judge()


@pytest.mark.parametrize("fine", FINE, ids=str)
def test_what_is_right_is_left_alone(fine: Fine) -> None:
    fine.judge()
