"""The rules in force, one file each.

Takes  a protocol and its book.
Gives  `RULES` in the order of their ids, and `problems_of` to run them all; `CLINIC_RULES` and `clinic_problems` for the settings.
Knows  which files hold rules; to add one, write its file and name it here.
"""

from __future__ import annotations

from generator.protocol.model import Book, Protocol
from generator.protocol.rules import (
    adherent_contact,
    approver,
    blend_parts,
    bone_pushed_back,
    breathing_check,
    carpal_flexion,
    contact_interval,
    dates_order,
    ehmer_cases,
    ehmer_ventral,
    elastic_unpadded,
    firmness_words,
    go_home_needs,
    heavy_distal,
    history_rows,
    humerus_femur,
    instead_known,
    joints_named,
    layer_keys,
    layer_order,
    layers_needed,
    limit_ceilings,
    limits_order,
    materials_known,
    narrow_elastic,
    pressure_alone,
    pressure_bandage,
    removal_needed,
    signs_known,
    sling_on_cat,
    soft_immobilises,
    sources_given,
    steps_order,
    stifle_growing,
    tape_on_skin,
    tape_ring,
    tieover_loops,
    velpeau_cases,
    velpeau_growing,
)
from generator.protocol.rules.clinic import CLINIC_RULES, clinic_problems
from generator.protocol.rules.rule import Rule, each
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem, in_order

__all__ = ["CLINIC_RULES", "RULES", "clinic_problems", "problems_of"]

_FILES = (
    adherent_contact,
    approver,
    blend_parts,
    bone_pushed_back,
    breathing_check,
    carpal_flexion,
    contact_interval,
    dates_order,
    ehmer_cases,
    ehmer_ventral,
    elastic_unpadded,
    firmness_words,
    go_home_needs,
    heavy_distal,
    history_rows,
    humerus_femur,
    instead_known,
    joints_named,
    layer_keys,
    layer_order,
    layers_needed,
    limit_ceilings,
    limits_order,
    materials_known,
    narrow_elastic,
    pressure_alone,
    pressure_bandage,
    removal_needed,
    signs_known,
    sling_on_cat,
    soft_immobilises,
    sources_given,
    steps_order,
    stifle_growing,
    tape_on_skin,
    tape_ring,
    tieover_loops,
    velpeau_cases,
    velpeau_growing,
)
RULES: tuple[Rule, ...] = tuple(sorted((file.RULE for file in _FILES), key=lambda rule: rule.id))


def problems_of(protocol: Protocol, book: Book) -> tuple[Problem, ...]:
    """Run every rule over one protocol, stage by stage where it has stages.

    A rule that meets a value that could not be read ends there without a word: that value already has its problem.
    """
    if is_unsound(protocol.kind) or is_unsound(protocol.stages):
        return ()
    found: list[Problem] = []
    for one in tuple(protocol.stages.values()) or (protocol,):
        if not is_unsound(one):
            rules = (rule for rule in RULES if rule.blends or one.kind != "blend")
            found += each(rules, lambda rule, one=one: rule.check(one, book))  # type: ignore[misc]
    return in_order(found)
