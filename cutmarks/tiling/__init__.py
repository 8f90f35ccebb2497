"""Tiling: tile, joint, bond and start make the grid; only pieces that something touches become geometry."""
