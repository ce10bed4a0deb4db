"""What the person decided, as frozen types, and the edits that change it."""
