"""Light over the shutter window."""
