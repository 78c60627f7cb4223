"""Ctrl-C as a wish, not an accident: the first one asks for the best plan so far, the second one breaks off."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType


@contextmanager
def stop_on_interrupt(stop: threading.Event | None = None) -> Iterator[threading.Event]:
    """An event that the first Ctrl-C sets; the handler that stood before is put back afterwards.

    Outside the main thread, where Python delivers no signals, the event is only what the caller makes of it.
    """
    event = stop or threading.Event()
    if threading.current_thread() is not threading.main_thread():
        yield event
        return
    before = signal.getsignal(signal.SIGINT)

    def on_interrupt(number: int, frame: FrameType | None) -> None:
        if event.is_set():
            raise KeyboardInterrupt
        event.set()

    signal.signal(signal.SIGINT, on_interrupt)
    try:
        yield event
    finally:
        signal.signal(signal.SIGINT, before)
