"""Fixing: the order in which pieces are fixed, and so what each is read and marked from when it goes up."""
