"""A job's parts put together into a machine, a plan and checks."""
