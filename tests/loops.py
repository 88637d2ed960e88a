"""Coroutines in tests, beside a browser driver that keeps a loop of its own in the test's thread."""

import asyncio
from concurrent.futures import ThreadPoolExecutor


def run(coroutine):
    """What the coroutine returns, run in a thread and a loop of its own."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, coroutine).result()
