"""Measurements, each against a floor in the same run."""
