"""Gives the fault behind wrong pages its name, so that one mistake is told once."""
