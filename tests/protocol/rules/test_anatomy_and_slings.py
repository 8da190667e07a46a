"""Rules R01 to R12: what a bandage can hold, and for which injuries a sling is right or wrong."""

from __future__ import annotations

import pytest

from tests.protocol.rules.slips import Fine, Slip

BANS = "  - {case: a ventral hip luxation, because: the sling drives the hip out again}\n"

SLIPS = (
    # R01. Splint how-to; Palmer, WSAVA 2018; Ferrigno, AO Surgery Reference: joint above and joint below.
    Slip(
        "splinted-limb.yaml",
        "joints: [tarsus, stifle]",
        "joints: [stifle]",
        "joint-not-held",
        "joints: [stifle]",
        says="tarsus is not",
    ),
    Slip(
        "splinted-limb.yaml",
        "joints: [tarsus, stifle], ",
        "",
        "joint-not-held",
        "covers: {",
        says="`joints: [tarsus, stifle]`",
    ),
    Slip(
        "cast-limb.yaml",
        "joints: [carpus, elbow]",
        "joints: [carpus, toes]",
        "joint-not-held",
        "covers: {",
        says="elbow",
    ),
    Slip("cast-limb.yaml", "bone: radius and ulna\n", "bone: metacarpus\n", "joint-not-held", "covers: {", says="toes"),
    # R57. Growing limbs outgrow a shell, a hard edge cuts in: common practice.
    Slip("cast-limb.yaml", "only_for: grown\n", "", "cast-for-whom", "kind: support.cast", severity="warning"),
    Slip(
        "cast-limb.yaml",
        "material: cast slab, count: 4",
        "material: cast tape, passes: 2, overlap: 50 %",
        "shell-to-the-edge",
        "layer: splint",
        says="inset: 1 cm",
    ),
    Slip(
        "cast-limb.yaml",
        "material: cast slab, count: 4",
        "material: cast tape, passes: 4, overlap: 50 %, inset: 1 cm",
        "shell-too-thick",
        "passes: 4",
        severity="warning",
    ),
    # R02. Palmer 2018; K9 guideline on fractures; Today's Veterinary Practice 2015:25.
    Slip("splinted-limb.yaml", "bone: tibia", "bone: femur", "bone-out-of-reach", "bone: femur", says="hip"),
    Slip(
        "soft-padded.yaml",
        "immobilises: no",
        "immobilises: no\nbone: [tibia, humerus]",
        "bone-out-of-reach",
        "bone: [tibia",
        says="humerus",
    ),
    Slip(
        "soft-padded.yaml",
        "  - swelling below the elbow or the stifle",
        "  - a stable fracture of the femur",
        "bone-out-of-reach",
        "use_when:\n  -",
    ),
    # R03. VetAgro Sup; Etchépareborde 2013.
    Slip(
        "heavy-padded.yaml",
        "sites: [distal forelimb, distal hindlimb]",
        "sites: [distal forelimb, hip]",
        "heavy-bandage-too-high",
        "sites:",
        says="hip",
    ),
    # R04. Gleason 2023.
    Slip("soft-padded.yaml", "immobilises: no", "immobilises: yes", "soft-bandage-immobilises", "immobilises:"),
    # R05. Roush and Renberg 2015; VetAgro Sup.
    Slip("ehmer-sling.yaml", BANS, "", "ehmer-case-missing", "do_not_use_when:\n  -", says="ventral"),
    Slip(
        "ehmer-sling.yaml",
        "case: a luxation older than seven days",
        "case: a fever",
        "ehmer-case-missing",
        "do_not_use_when:\n  -",
        says="older than seven",
    ),
    Slip(
        "ehmer-sling.yaml",
        "case: a fracture of the acetabulum",
        "case: a fever",
        "ehmer-case-missing",
        "do_not_use_when:\n  -",
        says="acetabulum",
    ),
    Slip(
        "ehmer-sling.yaml",
        "case: hip dysplasia",
        "case: a fever",
        "ehmer-case-missing",
        "do_not_use_when:\n  -",
        says="- {case: hip dysplasia, because:",
    ),
    Slip(
        "ehmer-sling.yaml",
        "case: the other hindlimb cannot bear weight",
        "case: a fever",
        "ehmer-case-missing",
        "do_not_use_when:\n  -",
    ),
    Slip(
        "ehmer-sling.yaml",
        "  - a craniodorsal hip luxation put back within a week",
        "  - a hip with dysplasia",
        "ehmer-case-forbidden",
        "use_when:\n  -",
    ),
    # R06. Caudoventral hip luxation in 160 dogs, Vet Surg 2024;53:586–595.
    Slip(
        "ehmer-sling.yaml",
        "  - a craniodorsal hip luxation put back within a week",
        "  - a caudoventral hip luxation put back without surgery",
        "ehmer-for-ventral-luxation",
        "use_when:\n  -",
        says="48.8 %",
    ),
    # R07, R08, R10. VetAgro Sup, page on the Velpeau sling.
    Slip(
        "velpeau-sling.yaml",
        "case: a lateral luxation of the shoulder",
        "case: a fever",
        "velpeau-case-missing",
        "do_not_use_when:\n  -",
        says="lateral",
    ),
    Slip(
        "velpeau-sling.yaml",
        "case: a distal oblique fracture of the humerus",
        "case: a fever",
        "velpeau-case-missing",
        "do_not_use_when:\n  -",
        says="radial nerve",
    ),
    Slip(
        "velpeau-sling.yaml",
        "  - a medial luxation of the shoulder put back",
        "  - a lateral luxation of the shoulder",
        "velpeau-case-forbidden",
        "use_when:\n  -",
    ),
    Slip(
        "velpeau-sling.yaml",
        'check: "Breathing is quiet once the animal is fully awake."',
        "check: Two fingers slide under the wrap.",
        "breathing-not-checked",
        "steps:",
    ),
    Slip(
        "chest-wrap.yaml",
        "check: Breathing is easy once awake.",
        "check: The wrap is even.",
        "breathing-not-checked",
        "steps:",
    ),
    # R11. Simpson 2001; VetAgro Sup.
    Slip(
        "carpal-sling.yaml",
        "case: bending the carpus hurts, because: pain says that",
        "case: a fever, because: heat says that",
        "painful-flexion-not-excluded",
        "do_not_use_when:\n  -",
    ),
    Slip(
        "carpal-sling.yaml",
        "the plan of extension, starting within 2 to 4 weeks of surgery",
        "the next visit",
        "extension-not-planned",
        "steps:",
        "warning",
    ),
)

# Sound in other words: a clinic does not write as we do.
FINE = (
    Fine("ehmer-sling.yaml", "case: a fracture of the acetabulum", "case: a broken hip socket"),
    Fine("ehmer-sling.yaml", "case: the other hindlimb cannot bear weight", "case: cannot stand on three legs"),
    Fine("ehmer-sling.yaml", "case: a luxation older than seven days", "case: luxation more than a week old"),
    Fine(
        "ehmer-sling.yaml",
        "  - a craniodorsal hip luxation put back within a week",
        "  - a craniodorsal, not a ventral, hip luxation",
    ),
    Fine(
        "velpeau-sling.yaml",
        "case: a lateral luxation of the shoulder",
        "case: a shoulder that came out toward the outside",
    ),
    Fine(
        "soft-padded.yaml",
        "  - swelling below the elbow or the stifle",
        "  - swelling of a limb with no injury of femur or humerus",
    ),
    Fine("carpal-sling.yaml", "case: bending the carpus hurts", "case: painful flexion of the carpus"),
    # A splint over the back crosses the hip (Palmer 2018: body spica).
    Fine(
        "splinted-limb.yaml",
        "bone: tibia\nuse_when:\n  - a reason to use it\ndo_not_use_when:\n  - {case: a femur injury in an animal under six months, because: the thigh muscle shortens for good}\n"
        "covers: {from: toes, to: above the stifle, joints: [tarsus, stifle]",
        "bone: femur\nuse_when:\n  - a fracture of the femur\ndo_not_use_when:\n  - {case: a femur injury in an animal under six months, because: the thigh muscle shortens for good}\n"
        "covers: {from: toes, to: over the hip, joints: [stifle, hip]",
    ),
    Fine("splinted-limb.yaml", "bone: tibia\n", ""),
)


@pytest.mark.parametrize("slip", SLIPS, ids=str)
def test_one_slip_brings_one_problem_at_its_line(slip: Slip) -> None:
    slip.judge()


@pytest.mark.parametrize("fine", FINE, ids=str)
def test_sound_wording_is_left_alone(fine: Fine) -> None:
    fine.judge()
