"""Exact plane geometry of lines and arcs. It knows no tile and no file.

A ring is a closed row of vertices with bulges, a region is what rings enclose. A circle stays a circle and an arc an
arc through every operation: nothing is ever turned into a polygon.
"""
