"""Gauging: what is marked on the wall before the first tile goes up, by the plan of a job that has its start.

Where the batten goes and how high it stands, the rod's marks, where joints meet, what is checked across a window, the
cuts to expect in the order in which they are measured, and the joints that are left for silicone.
"""
