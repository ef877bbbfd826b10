"""The parts of a job's document, each with its fields, labels and limits."""
