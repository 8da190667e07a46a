"""Random tests draw the same values on every computer and every day."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("steady", derandomize=True, deadline=None, max_examples=60, database=None)
settings.load_profile("steady")
