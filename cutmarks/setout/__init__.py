"""Set-out: the lines that everything is measured from, the edges as measured, and the ground that is left to tile."""
