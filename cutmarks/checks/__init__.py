"""Checks: one rule, one function; each finding has its figure, its limit and where the limit comes from."""
