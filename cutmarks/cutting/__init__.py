"""How each piece is cut: its finished contours, and of them what the maker of the tile has not made already."""
