"""Numbers with unit, ± and source, and what a person types."""
