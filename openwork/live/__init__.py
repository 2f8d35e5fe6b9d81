"""The live page: a server on this machine, two workers behind it, and the page in front of it.

The server imports nothing of what draws; the workers know nothing of sockets and processes.
"""

__all__ = ["server", "sheet"]
