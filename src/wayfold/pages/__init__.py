"""Frames, texts and maps become one Drawing a page."""
