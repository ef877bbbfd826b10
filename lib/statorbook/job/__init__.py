"""A job's folder on the disk: document, logs, history, drafts, zip."""
