"""Photographs in time and place become days and stops."""
