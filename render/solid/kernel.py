"""The CAD kernel, kept from talking: it prints to standard output unless told not to."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from OCP.Message import Message


@contextmanager
def quiet() -> Iterator[None]:
    """Take the kernel's printers away for a while."""
    messenger = Message.DefaultMessenger_s()
    printers = list(messenger.Printers())
    for printer in printers:
        messenger.RemovePrinter(printer)
    try:
        yield
    finally:
        for printer in printers:
            messenger.AddPrinter(printer)
