"""Solve in a child process that can be killed: a hard stop that no overrun inside the solver can defeat.

    parent --- programme, limits, start ---> child
    child  --- progress, better plans, the answer ---> parent
    parent --- one byte: stop ---> child              (then up to GRACE_S for a tidy answer, then the child is ended)

The child has its own session, so Ctrl-C reaches the parent alone, which keeps the best plan. The child ends by
itself when the parent goes away, because its standard input closes.
"""

from __future__ import annotations

import os
import pickle
import queue
import subprocess
import sys
import threading
import time
from contextlib import suppress
from typing import Any, BinaryIO

import numpy as np

from relet.planning.programme import Arrays, Numbers
from relet.planning.solver import Answer, Limits, Progress, Watch, solve

GRACE_S = 3.0
"""How long a child that was told to stop, or has passed its limit, may take to give its answer."""


def solve_apart(
    programme: Arrays,
    limits: Limits,
    *,
    start: Numbers | None = None,
    watch: Watch | None = None,
    stop: threading.Event | None = None,
) -> Answer:
    """As `relet.planning.solver.solve`, in a child process with a hard stop at limits.seconds + GRACE_S.

    Setting `stop` asks for the best so far.
    raises  RuntimeError if the child fails
    """
    began = time.monotonic()
    child = subprocess.Popen(
        [sys.executable, "-c", "from relet.planning.apart import child; child()"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        start_new_session=True,
    )
    assert child.stdin is not None and child.stdout is not None
    inbox: queue.Queue[tuple[str, Any]] = queue.Queue()
    threading.Thread(target=_receive, args=(child.stdout, inbox), daemon=True).start()
    try:
        pickle.dump((programme, limits, start), child.stdin)
        child.stdin.flush()
        return _wait(child, inbox, began, limits, watch, stop)
    finally:
        if child.poll() is None:
            child.kill()
        child.wait()
        with suppress(OSError):
            child.stdin.close()
        child.stdout.close()


def _wait(
    child: subprocess.Popen[bytes],
    inbox: queue.Queue[tuple[str, Any]],
    began: float,
    limits: Limits,
    watch: Watch | None,
    stop: threading.Event | None,
) -> Answer:
    best: tuple[float, Numbers] | None = None
    bound, asked_at = -np.inf, np.inf
    last = began + limits.seconds + GRACE_S
    while True:
        now = time.monotonic()
        if now > min(last, asked_at + GRACE_S):
            if best is None:
                return Answer("none", None, np.inf, bound, now - began)
            return Answer("stopped", best[1], best[0], bound, now - began)
        try:
            if stop is not None and stop.is_set() and not np.isfinite(asked_at):
                asked_at = _ask_to_stop(child)
            kind, body = inbox.get(timeout=0.1)
        except queue.Empty:
            continue
        if kind == "progress":
            bound = max(bound, body.bound if body.bound is not None else -np.inf)
            if watch is not None:
                watch(body)
        elif kind == "better":
            best = body
        elif kind == "done":
            answer: Answer = body
            return answer
        else:
            raise RuntimeError(f"the solver's process failed: {body}")


def _ask_to_stop(child: subprocess.Popen[bytes]) -> float:
    assert child.stdin is not None
    with suppress(OSError):
        child.stdin.write(b"s")
        child.stdin.flush()
    return time.monotonic()


def _receive(pipe: BinaryIO | Any, inbox: queue.Queue[tuple[str, Any]]) -> None:
    try:
        while True:
            inbox.put(pickle.load(pipe))
    except (EOFError, OSError, ValueError, pickle.UnpicklingError) as problem:
        inbox.put(("gone", f"it ended without an answer ({type(problem).__name__})"))


def child() -> None:
    """The child's side: read one programme, solve, write messages. Standard output carries messages only."""
    out = os.fdopen(os.dup(1), "wb")
    null = os.open(os.devnull, os.O_WRONLY)
    os.dup2(null, 1)
    writing, stop = threading.Lock(), threading.Event()

    def say(kind: str, body: Any) -> None:
        with writing:
            pickle.dump((kind, body), out)
            out.flush()

    def better(price: float, values: Numbers) -> None:
        say("better", (price, values))

    def progress(p: Progress) -> None:
        say("progress", p)

    programme, limits, start = pickle.load(sys.stdin.buffer)

    def listen() -> None:
        sys.stdin.buffer.read(1)  # one byte, or the end: the parent is gone
        stop.set()

    threading.Thread(target=listen, daemon=True).start()
    try:
        say("done", solve(programme, limits, start=start, watch=progress, improve=better, stop=stop))
    except Exception as problem:
        say("failed", f"{type(problem).__name__}: {problem}")
    out.flush()
    os._exit(0)
