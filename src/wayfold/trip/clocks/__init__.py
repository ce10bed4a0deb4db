"""How far each camera's clock is from UTC, by which evidence, and how sure that is."""
