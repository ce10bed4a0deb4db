"""Watercolour washes: size, tint, edges and seed give a raster. Knows nothing of trips or books."""
