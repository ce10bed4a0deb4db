"""Joins everything: sessions and builds; the only place where real adapters are chosen."""
