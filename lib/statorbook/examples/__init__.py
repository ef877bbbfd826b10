"""The invented jobs."""
