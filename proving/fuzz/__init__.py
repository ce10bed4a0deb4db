"""Trying the doors with cases by chance, over a long time."""
