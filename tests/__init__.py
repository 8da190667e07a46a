"""Tests; a package, so that one room's tests may use another's helpers."""
