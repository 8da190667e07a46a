"""Reckon a bandage for one patient on one day.

Takes  protocols, the patient, the book, the moment, the clinic's zone.
Gives  `reckon`: a `Plan`, or a `Refusal` with every problem.
Knows  the order: join, tighten, limb, layers, visits; each in a file of its own.
"""

from generator.reckon.reckoner import reckon

__all__ = ["reckon"]
