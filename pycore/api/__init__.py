"""The only door: text in, text out."""
