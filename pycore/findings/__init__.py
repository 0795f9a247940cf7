"""One file for each question that the user asks."""
