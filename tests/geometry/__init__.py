"""Tests of the geometry kernel."""
