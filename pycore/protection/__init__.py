"""Protective devices, earth faults and residual current."""
