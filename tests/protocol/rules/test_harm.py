"""Rules R14, R41 to R55, and what the older ones gained: found by mutating the shipped protocols and seeing what nobody stopped."""

from __future__ import annotations

import pytest

from tests.protocol.rules.slips import Fine, Slip, edited, told

GAUZE = "do: Roll gauze the same way."
RING = "  - {caution: Do not close tape in a ring round the limb., because: a ring becomes a tourniquet, do: Lay one strip on each side of the limb.}\n"
TOES = "  - {caution: Keep the two middle toes showing., because: they are the window on the blood supply, do: Roll the padding from the toes upward.}\n"
FINGER = (
    "  - {check: The tip of the little finger slides in at both ends., if_not: take it off and start again}\n"
    "  - {check: Both middle toes are warm., if_not: take it off and start again}\n"
)
WARM = "  - {check: Both middle toes are warm., if_not: take it off and start again}\n"
REST = "  - {do: Roll gauze the same way.}\n  - {do: Fold each stirrup end up onto the gauze.}\n  - {do: Lay the re-rolled outer wrap the same way.}\n"
MARKED = (
    "  - {layer: contact, do: Lay the pad on the incision.}\n",
    TOES.replace("do:", "layer: padding, do:"),
    "  - {layer: conforming, do: Roll gauze the same way.}\n",
    "  - {do: Fold each stirrup end up onto the gauze.}\n",
    "  - {layer: outer, do: Lay the re-rolled outer wrap the same way.}\n",
)
STRIPS = RING.replace("do:", "layer: stirrups, do:")
STEPS = RING + TOES + REST
FOAM = "{layer: contact, material: foam sheet, count: 1}"

SLIPS = (
    # R14. Campbell 2015: a retentive dressing is sized to the wound.
    Slip("open-wound.yaml", "Cut the foam to the edge of the wound.", "Lay the foam on.", "dressing-past-edge", "material: foam sheet"),
    Slip("open-wound.yaml", "material: silicone net, count: 1}", "material: by the wound, count: 1, prefer: [silicone net, foam sheet]}", "dressing-past-edge", "prefer: [silicone net", "warning"),
    # R41.
    Slip("soft-padded.yaml", "material: cast padding", "material: by the wound", "wound-cannot-choose", "layer: padding"),
    Slip("closed-wound.yaml", "material: low-adherent pad", "material: by the wound, prefer: [foam sheet]", "wound-cannot-choose", "layer: contact", says="no stage"),
    Slip("open-wound.yaml", "material: foam sheet", "material: by the wound", "prefer-missing", "material: by the wound"),
    Slip("open-wound.yaml", "material: foam sheet, count: 1", "material: foam sheet, count: 1, prefer: [silicone net]", "prefer-unread", "material: foam sheet"),
    Slip("open-wound.yaml", "material: foam sheet", "material: by the wound, prefer: [haemostatic pad]", "preferred-not-for-wounds", "prefer:"),
    # R13 and R34, of what the wound may choose from.
    Slip("open-wound.yaml", "material: foam sheet", "material: by the wound, prefer: [foam sheet, wet gauze]", "adherent-contact-preferred", "prefer:"),
    Slip("open-wound.yaml", "material: sterile pad", "material: by the wound, prefer: [sterile pad, wet gauze]", "adherent-contact-preferred", "prefer:", "warning"),
    Slip("open-wound.yaml", "material: foam sheet", "material: by the wound, prefer: [foam sheat]", "material-unknown", "prefer:", says="foam sheet"),
    Slip("open-wound.yaml", "material: foam sheet", "material: by the wound, prefer: [cast padding]", "material-of-another-layer", "prefer:"),
    # R42.
    Slip("soft-padded.yaml", STEPS, STRIPS + "".join((*MARKED[:2], *MARKED[3:])), "layer-not-laid", "steps:", says="conforming"),
    Slip("soft-padded.yaml", STEPS, STRIPS + "".join(MARKED[1:]), "layer-not-laid", "steps:", "warning", says="contact"),
    Slip("soft-padded.yaml", STEPS, STRIPS + "".join(MARKED[:3]) + "  - {layer: splint, do: Set a splint.}\n" + "".join(MARKED[3:]), "laid-but-not-listed", "layer: splint"),
    Slip("soft-padded.yaml", STEPS, STRIPS + "".join((MARKED[0], MARKED[1], MARKED[3], MARKED[4], MARKED[2])), "laid-out-of-order", "{layer: conforming, do: Roll"),
    Slip("soft-padded.yaml", STEPS, STRIPS + "".join(MARKED[:2]) + "  - {layer: padding, caution: Keep it even., because: ridges press}\n" + "".join(MARKED[2:]), "layer-without-act", "{layer: padding, caution"),
    # R43.
    Slip("velpeau-sling.yaml", "sites: [shoulder]", "sites: [shoulder, hindlimb]", "site-not-of-kind", "sites:", says="hindlimb"),
    Slip("tail-cover.yaml", "sites: [tail]", "sites: [distal forelimb]", "site-not-of-kind", "sites:", says="write one or more of: tail"),
    # R44.
    Slip("heavy-padded.yaml", "  first_check: 12 h to 24 h\n", "", "limit-missing", "limits:", says="first_check"),
    Slip("heavy-padded.yaml", "  check_every: {interval: 4 h, who: technician}\n", "", "limit-missing", "limits:", says="nobody is told"),
    Slip("cast-limb.yaml", "  recheck_every: 7 d\n", "", "limit-missing", "limits:", says="7 d"),
    Slip("splinted-limb.yaml", "  remove_when: union on radiograph\n", "", "end-missing", "limits:", "warning"),
    Slip("open-fracture.yaml", "  remove_when: fixation of the fracture\n", "", "end-missing", "blend:", "warning"),
    # R45. American College of Veterinary Surgeons, owner page: morning and evening.
    Slip("soft-padded.yaml", "interval: 12 h", "interval: 721 min", "checked-too-seldom", "check_every:"),
    Slip("velpeau-sling.yaml", "go_home: yes", "go_home: no", "owner-checks-inpatient", "check_every:", "warning"),
    # R46. The same page for nails, wet, smell and slipping; Côté for cold toes; VetAgro Sup for breathing.
    Slip("soft-padded.yaml", "signs: [toes-cold-or-discoloured, ", "signs: [", "sign-missing", "signs:", says="cold or discoloured toes"),
    Slip("soft-padded.yaml", " wet,", "", "sign-missing", "signs:", says="a wet bandage"),
    Slip("soft-padded.yaml", " toes-no-flinch,", "", "sign-missing", "signs:", "warning", says="do not feel"),
    Slip("head-cover.yaml", " hard-breathing,", "", "sign-missing", "signs:", says="hard breathing"),
    Slip("heavy-padded.yaml", "signs: [toes-cold-or-discoloured, ", "signs: [", "sign-missing", "signs:", "warning", says="staff"),
    # R47.
    Slip("soft-padded.yaml", "    - Smell the bandage at both ends.\n", "    - Smell the bandage at both ends.\n    - If it looks tight, loosen the wrap.\n", "owner-told-to-treat", "every_day:\n    - Look", says="handle the bandage"),
    Slip("soft-padded.yaml", "Take the cover off as soon as you are indoors.", "Take the cover off as soon as you are indoors. Dry a wet wrap with a hair dryer.", "owner-told-to-treat", "- Put a cover"),
    Slip("soft-padded.yaml", "Do not give human medicine. It can kill.", "Do not give human medicine. Give half an aspirin.", "owner-told-to-treat", "- Do not cut"),
    Slip("soft-padded.yaml", "Do not let {pet} jump or run.", "Stay on the sofa till {pet} will jump or run.", "never-line-permits", "- Do not cut"),
    # R48.
    Slip("soft-padded.yaml", "Do not cut, loosen or tape the bandage.", "Do not cut the bandage.", "handling-not-forbidden", "- Do not cut"),
    Slip("soft-padded.yaml", "    - Came off? Do not put it back. Ring us.\n", "", "owner-line-missing", "- Do not cut", "warning", says="comes off"),
    Slip("soft-padded.yaml", "  keep_dry:\n    - Put a cover over it to go out.\n    - Take the cover off as soon as you are indoors.\n", "", "owner-line-missing", "- Look at the two", "warning", says="stays dry"),
    Slip("soft-padded.yaml", "  exercise: {walks: 4 a day, minutes_each: 5 min, lead: 2 m}\n", "", "owner-line-missing", "- Look at the two", "warning", says="rest"),
    Slip("tail-cover.yaml", "Look at the two middle toes once for each box.", "Look at the tail morning and evening.", "checks-counted-otherwise", "- Look at the tail", "warning", says="2 a day"),
    # R49.
    Slip("soft-padded.yaml", RING, "  - {do: Lay one strip on each side of the limb.}\n", "caution-missing", "steps:", "warning", says="ring"),
    Slip("soft-padded.yaml", "  - {do: Fold each stirrup end up onto the gauze.}\n", "", "caution-missing", "steps:", "warning", says="ends of the stirrups"),
    Slip("splinted-limb.yaml", "caution: Do not let a splint edge touch skin., because: a hard edge cuts in, ", "", "caution-missing", "steps:", "warning", says="edge of the splint"),
    Slip("soft-padded.yaml", STEPS, STRIPS + MARKED[0] + "  - {layer: padding, do: Roll the padding from the toes upward.}\n" + MARKED[2].replace("do:", "caution: Do not cover the toes., because: they are the window on the blood supply, do:") + "".join(MARKED[3:]), "caution-late", "layer: conforming, caution: Do not", "warning"),
    # R50.
    Slip("soft-padded.yaml", FINGER, "", "check-missing", "steps:"),
    Slip("soft-padded.yaml", WARM, "", "check-of-kind-missing", "steps:", "warning", says="the toes"),
    Slip("soft-padded.yaml", STEPS + FINGER, WARM + STRIPS + "".join(MARKED) + FINGER.replace(WARM, ""), "check-before-wrap", "check: Both", "warning"),
    # R51. Sugar: Birchard 2014. Plain pads: K9 guideline 14.
    Slip("open-wound.yaml", "material: silicone net", "material: haemostatic pad", "contact-of-another-stage", "material: haemostatic pad"),
    Slip("open-wound.yaml", "material: silicone net", "material: sterile pad", "contact-of-another-stage", "maturation:\n    layers:\n      - {layer: stirrups, material: porous tape, width: 2.5 cm, count: 2, on_skin_at_most: 7 d}\n      - {layer: contact", "warning"),
    # R52. Too little padding: Anderson and White 2000. About 2 cm showing: Hazewinkel.
    Slip("soft-padded.yaml", "material: cast padding, passes: 3", "material: cast padding, passes: 1", "passes-unusual", "layer: padding", "warning", says="2 to 4"),
    Slip("soft-padded.yaml", "material: cohesive wrap, passes: 1", "material: cohesive wrap, passes: 3", "passes-unusual", "layer: outer", "warning", says="presses"),
    Slip("soft-padded.yaml", ", inset: 2 cm", "", "padding-not-showing", "layer: conforming", "warning"),
    Slip("heavy-padded.yaml", "material: roll cotton, passes: 3, overlap: 50 %, width: 15 cm", "material: cast padding, passes: 4, overlap: 50 %", "padding-of-another-bulk", "layer: padding", "warning", says="1.6 cm"),
    Slip("splinted-limb.yaml", "material: cast padding", "material: roll cotton", "padding-of-another-bulk", "layer: padding", "warning", says="3.2 cm"),
    Slip("soft-padded.yaml", "Do not let {pet} jump or run.", "Let {pet} run on the lawn. Do not let it jump.", "owner-told-to-treat", "- Do not cut"),
    # R53. Côté; VetAgro Sup: toes in sight.
    Slip("heavy-padded.yaml", ", leave_showing: tips of the two middle toes", "", "toes-hidden", "covers:"),
    Slip("ehmer-sling.yaml", "leave_showing: all toes", "leave_showing: the tail", "toes-hidden", "covers:"),
    Slip("head-cover.yaml", "leave_showing: the other ear and both eyes", "leave_showing: the other ear", "face-hidden", "covers:"),
    # R54.
    Slip("open-fracture.yaml", "{splinted-limb: 3, open-wound: 3}", "{splinted-limb: 2, open-wound: 3}", "part-revised", "reviewed_against:", says="revision 2"),
    Slip("open-fracture.yaml", "{splinted-limb: 3, open-wound: 3}", "{splinted-limb: 3}", "part-not-read", "reviewed_against:", says="open-wound: 3"),
    Slip("open-fracture.yaml", "{splinted-limb: 3, open-wound: 3}", "{splinted-limb: 3, open-wound: 3, hobbles: 1}", "stranger-read", "reviewed_against:"),
    Slip("open-fracture.yaml", "reviewed_against: {splinted-limb: 3, open-wound: 3}\n", "", "parts-not-read", "blend:", "warning", says="{splinted-limb: 3, open-wound: 3}"),
    # R55. A practitioner's guide to fracture management: a temporary bandage is changed every day.
    Slip("open-fracture.yaml", "  first_check: 4 h to 12 h\n", "  first_check: 4 h to 13 h\n", "open-fracture-closed-too-long", "first_check:", says="12 h"),
    Slip("open-fracture.yaml", "go_home: no", "go_home: yes", "open-fracture-goes-home", "go_home:", "warning"),
    # R56.
    Slip("open-wound.yaml", "kind: wound.open", "kind: support.soft", "stages-of-another-kind", "kind:"),
    # R04, R16, R26 and R29, of what they did not see before.
    Slip("heavy-padded.yaml", "immobilises: no", "immobilises: yes", "soft-bandage-immobilises", "immobilises:"),
    Slip("pressure-bandage.yaml", "{do: Release the wrap., by: 15 min}", "{do: Release the wrap.}", "pressure-step-untimed", "{do: Release", says="by: 15 min"),
    Slip("soft-padded.yaml", "firmness: snug", "firmness: tight", "gauze-too-firm", "firmness: tight"),
    Slip("soft-padded.yaml", "firmness: light", "firmness: firm", "outer-too-firm", "firmness: firm"),
    Slip("soft-padded.yaml", ", on_skin_at_most: 7 d", "", "tape-time-missing", "layer: stirrups", "warning"),
    # R32, of rolls by weight.
    Slip("hobbles.yaml", "  rolls: common practice\n", "", "rolls-source-missing", "rolls: {2 kg", "warning", says="clinic's own"),
    # R19 and R31 in a stored blend's own steps; R32 in its limits.
    Slip("open-fracture.yaml", "  first_check: common practice\n", "", "source-missing", "first_check:", "warning"),
)  # fmt: skip

FINE = (
    Fine("open-wound.yaml", "material: foam sheet", "material: by the wound, prefer: [foam sheet, silicone net]"),
    Fine("soft-padded.yaml", STEPS, STRIPS + "".join(MARKED)),
    Fine("soft-padded.yaml", "interval: 12 h", "interval: 720 min"),
    Fine("soft-padded.yaml", "Do not cut, loosen or tape the bandage.", "Leave the bandage alone. Ring us."),
    Fine("soft-padded.yaml", "Smell the bandage at both ends.", "Smell the bandage at both ends. Do not open it."),
    Fine(
        "soft-padded.yaml", "Take the cover off as soon as you are indoors.", "Indoors, pull the waterproof cover off."
    ),
    Fine("soft-padded.yaml", "once for each box", "morning and evening"),
    Fine("heavy-padded.yaml", "firmness: tight", "firmness: firm"),
    Fine("soft-padded.yaml", "inset: 2 cm", "inset: 1 cm"),
    Fine("open-wound.yaml", "material: silicone net", "material: low-adherent pad"),
)


@pytest.mark.parametrize("slip", SLIPS, ids=str)
def test_one_slip_brings_one_problem_at_its_line(slip: Slip) -> None:
    slip.judge()


@pytest.mark.parametrize("fine", FINE, ids=str)
def test_what_is_in_order_is_left_alone(fine: Fine) -> None:
    fine.judge()


def test_a_blend_whose_parts_conflict_names_both_lines() -> None:
    text = edited(
        "open-fracture.yaml",
        ("[splinted-limb, open-wound@inflammatory]", "[splinted-limb, heavy-padded]"),
        ("reviewed_against: {splinted-limb: 3, open-wound: 3}\n", "reviewed_against: {splinted-limb: 3, heavy-padded: 3}\n"),
        ("key: padding, part: splinted-limb", "key: contact, part: splinted-limb"),
    )  # fmt: skip
    found = [p for p in told({"open-fracture.yaml": text}) if p.name == "parts-cannot-be-joined"]
    assert [{p.span.file, *(span.file for span, _ in p.also)} for p in found] == [
        {"open-fracture.yaml", "heavy-padded.yaml", "splinted-limb.yaml"}
    ]


def test_parts_for_no_common_site_are_told() -> None:
    text = edited(
        "open-fracture.yaml",
        ("[splinted-limb, open-wound@inflammatory]", "[soft-padded, robinson-sling]"),
        ("{splinted-limb: 3, open-wound: 3}", "{soft-padded: 3, robinson-sling: 3}"),
        ("part: splinted-limb", "part: soft-padded"),
    )
    assert "parts-share-nothing" in [p.name for p in told({"open-fracture.yaml": text})]


def test_a_sign_that_is_too_slow_is_told_with_its_urgency() -> None:
    slow = edited("signs.yaml", ("  urgency: urgent\n", "  urgency: same day\n"))
    found = [p for p in told({"signs.yaml": slow}) if p.span.file == "soft-padded.yaml"]
    assert [(p.name, p.severity) for p in found] == [("sign-missing", "error")]
    assert found[0].what == "`nails-apart` is `same day`, and nails that move apart is `urgent`"


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("steps:\n  - {do: Close the tape in a ring round the limb.}\n", "tape-closes-ring"),
        ("steps:\n  - {do: Push the bone back in.}\n", "bone-pushed-back"),
        ("steps:\n  - {check: It is warm.}\n", "check-without-if-not"),
        ("steps:\n  - {do: Lay the pad.}\n", "check-missing"),
        ("steps:\n  - {layer: contact, do: Lay the pad.}\n", "layer-not-laid"),
    ],
)
def test_the_own_steps_of_a_blend_are_judged_as_its_parts_would_be(line: str, name: str) -> None:
    text = edited("open-fracture.yaml", ("settles:", line + "settles:"))
    assert name in [p.name for p in told({"open-fracture.yaml": text}) if p.span.file == "open-fracture.yaml"]
