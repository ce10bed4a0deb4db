"""Killing a real program at points of its work."""
