"""What the binder calls its own parts, and the words that warn.

Takes  nothing: these are tables.
Gives  `FRONT` and `BACK`, the titles of what stands before and after the chapters, in order; `ANIMAL` and `PEOPLE`, the two
       ladders of harm; `FORMS` and `LOG_COLUMNS`; `SYSTEMS`, which of them speaks of what.
Knows  that a sign for people must not stand for harm to an animal.
"""

from __future__ import annotations

# By the id of each chapter. The contents, the running heads and the titles themselves are all made of these.
FRONT = {
    "cover": "Bandaging procedures",
    "control": "Control page: index of all procedures",
    "copies": "Copies of this binder",
    "finder": "Finder: which bandage, on which page",
    "contents": "Contents",
    "use": "How to use this binder",
    "legend": "Legend: words and marks that warn",
    "telephones": "Telephones, hours, settings and limits of the house",
}
BACK = {
    "matrix": "Comparison of bandages by layer",
    "rules": "Rules in force",
    "tightenings": "Where this clinic is stricter",
    "modifiers": "What tightens a limit",
    "dressings": "Dressings by stage and fluid",
    "bands": "Girths by weight, estimates",
    "stock": "Stock",
    "training": "Training: people by procedures",
    "glossary": "Glossary",
    "index": "Index of terms",
    "log": "Form: watch log",
    "pick": "Form: pick list",
    "deviation": "Form: deviation from a procedure",
}

# The forms among them, in the order of their numbers.
FORMS = ("log", "pick", "deviation")
# Of the form that stands in for a floor card's log: when, by whom, what is looked at, what was done.
LOG_COLUMNS = ("Due", "Done", "By", "Toes warm", "Colour", "Swelling", "Smell", "Slip", "Action")

# Harm to a person, in the standard's own words (ANSI Z535.4; the same three in ISO 3864-2).
PEOPLE = (
    ("DANGER", "will kill or gravely hurt a person if not avoided", "only the most extreme; no bandage calls for it"),
    ("WARNING", "could kill or gravely hurt a person", "a painful, unmuzzled dog: a bite to the face"),
    ("CAUTION", "could hurt a person, not gravely", "scissors, the heat of a cast saw, scratches"),
    ("NOTICE", "not about people", "stock, kit, records"),
)
# Harm to the animal: this house's own ladder, since signs for people must not stand for it (ISO 3864-1, scope).
ANIMAL = (
    ("LIFE OR LIMB AT RISK", "breathing, bleeding, blood supply or nerve", "act now; the clinician is called"),
    ("SKIN AT RISK", "pressure, wet or infection", "the bandage is opened the same day"),
    ("COMFORT", "rubbing, licking, restlessness", "looked at, and written down"),
)
SYSTEMS = (
    "Harm to the animal is told on this house's own ladder, and on no other.",
    "The standard's signal words (ANSI Z535.4, ISO 3864-2) are kept for harm to people. They say nothing about the animal.",
    "Some writers of procedures use “warning” for people and “caution” for equipment. This binder does not.",
    "A filled triangle with bold words (both red in colour) stands before the step that it guards: what must not be done to the animal. It is not the standard’s word CAUTION, which speaks of people.",
)
