"""Findings over all results, and the proof that the print files fold into the book."""
