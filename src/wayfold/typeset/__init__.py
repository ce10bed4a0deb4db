"""Measures text and turns drawings into PDF and SVG; the only home of the typesetter."""
