"""Outlines, routes and labels become drawings."""
