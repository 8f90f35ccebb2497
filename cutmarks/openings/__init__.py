"""Openings: what comes through plus play, and its exact share in each piece."""
