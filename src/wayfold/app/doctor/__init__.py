"""What works on this machine, part by part, and what to do about the rest."""
