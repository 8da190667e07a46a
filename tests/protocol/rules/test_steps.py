"""Rules R15, R18, R19, R31: what the steps say, and in which order."""

from __future__ import annotations

import pytest

from tests.protocol.rules.slips import Fine, Slip

CAUTIOUS = "  - {caution: Keep the two middle toes showing., because: they are the window on the blood supply, do: Roll the padding from the toes upward.}\n"
CHECK = "  - {check: The tip of the little finger slides in at both ends., if_not: take it off and start again}\n"

SLIPS = (
    # R15. Chandler 2009: five loops or more, 3 to 4 mm from the edge, 0 or 2-0 monofilament.
    Slip("tieover.yaml", "Place 6 loops", "Place 4 loops", "tieover-loops", "steps:", says="4 suture loops"),
    Slip(
        "tieover.yaml",
        "Place 6 loops of 2-0 monofilament, 3 to 4 mm",
        "Place sutures of 2-0 monofilament, 3 to 4 mm",
        "tieover-loops",
        "steps:",
        says="no step",
    ),
    Slip("tieover.yaml", "Place 6 loops", "Place four suture loops", "tieover-loops", "steps:"),
    # R18. K9 guideline on open fractures: bone that shows is covered, never pushed back.
    Slip(
        "splinted-limb.yaml",
        "do: Roll gauze the same way.",
        "do: Push the bone back in.",
        "bone-pushed-back",
        "do: Push",
    ),
    Slip(
        "open-wound.yaml",
        '      - {do: "Cut the foam to the edge of the wound."}',
        '      - {do: "Cut the foam to the edge of the wound. Ease any bone that shows back into the wound."}',
        "bone-pushed-back",
        "Ease",
    ),
    Slip(
        "splinted-limb.yaml",
        "  - a reason to use it",
        "  - an open fracture below the stifle",
        "bone-not-guarded",
        "steps:",
        "warning",
    ),
    # R19. Etchépareborde 2013; CVC 2008: a ring becomes a tourniquet.
    Slip(
        "soft-padded.yaml",
        "do: Lay one strip on each side of the limb.",
        "do: Close the tape in a ring round the limb.",
        "tape-closes-ring",
        "do: Close",
    ),
    Slip(
        "soft-padded.yaml",
        "do: Lay one strip on each side of the limb.",
        "do: Lay the tape all the way round the limb.",
        "tape-closes-ring",
        "do: Lay the tape",
    ),
    Slip(
        "soft-padded.yaml",
        "do: Lay one strip on each side of the limb.",
        "do: Lay a ring of tape above the foot.",
        "tape-closes-ring",
        "do: Lay a ring",
    ),
    Slip(
        "soft-padded.yaml",
        "do: Lay one strip on each side of the limb.",
        "do: Encircle the limb with elastic tape.",
        "tape-closes-ring",
        "do: Encircle",
    ),
    # R31.
    Slip(
        "soft-padded.yaml",
        CAUTIOUS,
        "  - {do: Roll the padding from the toes upward., caution: Keep the toes showing., because: they are the window on the blood supply}\n",
        "caution-after-act",
        "do: Roll the padding",
        says="before `do`",
    ),
    Slip(
        "soft-padded.yaml",
        CAUTIOUS,
        "  - do: Roll the padding from the toes upward.\n    caution: Keep the toes showing.\n    because: they show the blood supply\n",
        "caution-after-act",
        "caution: Keep the toes",
    ),
    Slip(
        "soft-padded.yaml",
        CAUTIOUS,
        "  - {caution: Keep the toes showing., do: Roll the padding.}\n",
        "caution-without-because",
        "caution: Keep the toes",
    ),
    Slip(
        "soft-padded.yaml",
        CHECK,
        "  - {check: The little finger slides in.}\n",
        "check-without-if-not",
        "check: The little",
    ),
    Slip(
        "soft-padded.yaml",
        CHECK,
        CHECK + "  - {do: Look at it again., if_not: take it off}\n",
        "if-not-without-check",
        "if_not: take it off}",
    ),
    Slip("soft-padded.yaml", CHECK, CHECK + "  - {because: it is usual}\n", "step-empty", "- {because"),
    Slip(
        "soft-padded.yaml",
        CHECK,
        CHECK + "  - {caution: Do not leave the animal., because: it chews}\n",
        "caution-guards-nothing",
        "caution: Do not leave",
    ),
)

FINE = (
    # Rings of padding round prominences are the trade's own advice (splint how-to), and so are cautions against a ring of tape.
    Fine("soft-padded.yaml", "do: Roll gauze the same way.", "do: Lay a ring of padding round each prominence."),
    Fine(
        "soft-padded.yaml",
        "do: Lay one strip on each side of the limb.",
        'do: "Lay one strip on each side, never a ring of tape."',
    ),
    Fine("soft-padded.yaml", "do: Roll gauze the same way.", "do: Start the tape on the padded metatarsus."),
    Fine(
        "splinted-limb.yaml",
        "do: Roll gauze the same way.",
        'do: "If bone shows, cover it with a sterile pad, do not push the bone back in."',
    ),
    Fine("tieover.yaml", "Place 6 loops of", "Place at least five suture loops of"),
    # A caution may guard the act of the next step.
    Fine(
        "soft-padded.yaml",
        CAUTIOUS,
        "  - {caution: Keep the two middle toes showing., because: they are the window on the blood supply}\n  - {do: Roll the padding from the toes upward.}\n",
    ),
)


@pytest.mark.parametrize("slip", SLIPS, ids=str)
def test_one_slip_brings_one_problem_at_its_line(slip: Slip) -> None:
    slip.judge()


@pytest.mark.parametrize("fine", FINE, ids=str)
def test_sound_steps_are_left_alone(fine: Fine) -> None:
    fine.judge()
