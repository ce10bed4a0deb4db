"""Wayfold turns a trip into a book that its owner prints, folds, sews and cases in by hand."""
