"""What every other package may lean on: units, geometry, hashing, findings, errors, progress."""
