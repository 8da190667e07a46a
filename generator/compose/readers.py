"""Who must read a document of the clinic, and sign that it was read.

Takes  a `Clinic`.
Gives  `readers`: names with their offices, each person once.
Knows  that the head technician and the clinicians read what everybody reads, whether the roster repeats them or not.
"""

from __future__ import annotations

from generator.protocol.model import Clinic


def readers(clinic: Clinic) -> tuple[tuple[str, str], ...]:
    """Name and office of everybody who must read, in the order of the file; who signs for the clinic first."""
    signing = [(clinic.head_technician, "head technician"), *((name, "clinician") for name in clinic.clinicians)]
    listed = [(str(one.name), str(one.role)) for one in getattr(clinic, "staff", ())]
    offices = {name.casefold(): role for name, role in listed}
    found: dict[str, tuple[str, str]] = {}
    for name, role in (*signing, *listed):
        found.setdefault(name.casefold(), (name, offices.get(name.casefold(), role)))
    return tuple(found.values())
