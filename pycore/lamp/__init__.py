"""Ballast, head cable, lamp power and light."""
