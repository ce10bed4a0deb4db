"""Worksheets and templates for the maker's bench."""
