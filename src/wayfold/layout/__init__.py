"""The plan and the style become frames in millimetres."""
