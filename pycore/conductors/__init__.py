"""Cables: impedance, current-carrying capacity, voltage drop."""
