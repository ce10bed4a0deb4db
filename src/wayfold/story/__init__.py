"""The trip and the person's picks become an ordered list of blocks."""
