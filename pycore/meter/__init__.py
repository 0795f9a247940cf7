"""Readings against expectations."""
