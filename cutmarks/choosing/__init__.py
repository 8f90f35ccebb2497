"""Where to start: every way to begin that changes what is left at edges, windows and holes, and which are the best."""
