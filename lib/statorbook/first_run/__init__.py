"""The finished machine beside its promise."""
