"""Long runs by hand: what must hold whatever happens."""
