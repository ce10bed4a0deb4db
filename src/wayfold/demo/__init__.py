"""A journey to try Wayfold with: photographs from packages, and an invented story around them."""
