"""What the user describes: the rig file, its reading, editing and typical values."""
