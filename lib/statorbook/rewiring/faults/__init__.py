"""Which single fault explains the readings, and the next best reading."""
