"""Marks: what is drawn on a template or an elevation, as data."""
