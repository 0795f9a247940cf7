"""The steady state of the supply and everything that it feeds."""
