"""Logs as typed at the bench: columns, text in and out, meters, rows."""
