"""Tests of the press."""
