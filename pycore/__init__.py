"""Feed to Frame: the calculation core, from supply to shutter."""

__version__ = "0.1.0"
