"""Blocks and paper become pages on leaves on sheets in gatherings."""
