"""Locating: readings turned into places on the surface, from lines, edges, courses, pieces and other holes."""
