"""Coroutines run to their end from a test."""

import asyncio
from concurrent.futures import ThreadPoolExecutor


def run_apart(coroutine):
    """What the coroutine returns, run in a thread of its own: a browser test leaves its loop running in ours."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, coroutine).result()
