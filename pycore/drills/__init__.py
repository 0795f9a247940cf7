"""Exercises with numbers that vary by a short code."""
