"""Buying: how many tiles, how much adhesive, grout and silicone a job takes as it is laid out, by its plan."""
