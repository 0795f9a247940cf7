"""The vocabulary: quantities, units, laws, tables, answers. Knows no electricity."""
