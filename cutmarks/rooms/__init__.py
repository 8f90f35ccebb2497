"""Rooms by the dozen: what is cut once for a type, which rooms it fits, and what is cut anew for the others."""
