"""Landscapes painted by arithmetic, for machines on which no photographs can be fetched."""
