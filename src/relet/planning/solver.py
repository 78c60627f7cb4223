"""HiGHS behind one door: load by arrays, watch price and bound, stop with the best kept.

Traps met, each with the way round it (measured with highspy 1.16.0):
- the first `Highs()` of a process prints two lines to standard output whatever the options: it is made with file
  descriptor 1 pointed at the null device;
- `output_flag=False` silences the callbacks too: `log_to_console=False` is used;
- before a first answer price and bound are infinite: such progress is passed on as None, never as a number;
- a callback's exception is swallowed and only turns the status into an error: the status is checked;
- the time limit can be overrun while cuts are separated: `relet.planning.apart` solves in a child that can be killed.
"""

from __future__ import annotations

import os
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from relet.planning.programme import Arrays, Numbers

Status = Literal["optimal", "stopped", "infeasible", "none"]
"""Proven within the asked gap; stopped with the best so far; proven impossible; stopped with nothing in hand."""


@dataclass(frozen=True)
class Limits:
    """When to stop, and what makes runs repeat.

    seconds, gap (share of price), threads, seed
    """

    seconds: float = 30.0
    gap: float = 0.001
    threads: int = 2
    seed: int = 1


@dataclass(frozen=True)
class Progress:
    """Where a solve stands. price, bound and gap are None while there is none."""

    price: float | None
    bound: float | None
    gap: float | None
    seconds: float


@dataclass(frozen=True)
class Answer:
    """What came out. values is None without a plan in hand; bound never lies above the true optimum."""

    status: Status
    values: Numbers | None
    price: float
    bound: float
    seconds: float
    nodes: int = 0

    @property
    def gap(self) -> float:
        """(price - bound) / price."""
        return max(0.0, self.price - self.bound) / max(abs(self.price), 1e-9) if np.isfinite(self.price) else np.inf


Watch = Callable[[Progress], None]
Improve = Callable[[float, Numbers], None]
_silenced = threading.Lock()
_made_once = False


def solve(
    programme: Arrays,
    limits: Limits,
    *,
    start: Numbers | None = None,
    watch: Watch | None = None,
    improve: Improve | None = None,
    stop: threading.Event | None = None,
) -> Answer:
    """Solve in this process.

    start    column values of a plan in hand (checked by the solver, ignored if it does not fit)
    watch    called with Progress, at most twice a second, from the solver's thread
    improve  called with (price, values) for each better plan
    stop     set it to stop with the best kept (see `relet.planning.stopping` for Ctrl-C)
    raises   RuntimeError if the solver itself fails
    """
    began = time.monotonic()
    highs = _load(programme, limits)
    best: list[Numbers] = []
    if start is not None:
        _set_start(highs, start)

    def on_logging(event: Any) -> None:
        if watch is not None:
            watch(_progress(event.data_out, began))

    def on_better(event: Any) -> None:
        values = np.array(event.data_out.mip_solution, dtype=np.float64)
        best[:] = [values]
        if improve is not None:
            improve(float(event.data_out.objective_function_value), values)

    whole = bool(programme.whole.any())
    if whole:
        highs.cbMipLogging += on_logging
        highs.cbMipImprovingSolution += on_better
    highs.HandleUserInterrupt = True
    highs.startSolve()
    try:
        while not highs.wait(0.05)[0]:
            if stop is not None and stop.is_set():
                highs.cancelSolve()
    except KeyboardInterrupt:
        highs.cancelSolve()
        highs.wait(5.0)
        raise
    return _answer(highs, best, whole, time.monotonic() - began)


def _load(a: Arrays, limits: Limits) -> Any:
    import highspy

    highs = _quiet_highs()
    for option, value in {
        "log_to_console": False, "time_limit": limits.seconds, "mip_rel_gap": limits.gap, "threads": limits.threads,
        "random_seed": limits.seed, "mip_min_logging_interval": 0.5, "mip_feasibility_tolerance": 1e-7,
    }.items():  # fmt: skip
        highs.setOptionValue(option, value)
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(a.cost), len(a.row_low)
    lp.col_cost_, lp.col_lower_, lp.col_upper_ = a.cost, a.low, a.high
    lp.row_lower_, lp.row_upper_, lp.offset_ = a.row_low, a.row_high, a.fixed
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_, lp.a_matrix_.index_, lp.a_matrix_.value_ = a.start, a.index, a.value
    kinds = highspy.HighsVarType
    lp.integrality_ = [kinds.kInteger if w else kinds.kContinuous for w in a.whole]
    highs.passModel(lp)
    return highs


def _quiet_highs() -> Any:
    """A Highs object; the first of a process is made with standard output pointed at the null device."""
    global _made_once
    import highspy

    make: Any = highspy.Highs  # the class carries no types
    with _silenced:
        if _made_once:
            return make()
        kept, null = os.dup(1), os.open(os.devnull, os.O_WRONLY)
        try:
            os.dup2(null, 1)
            made = make()
        finally:
            os.dup2(kept, 1)
            os.close(kept)
            os.close(null)
        _made_once = True
        return made


def _set_start(highs: Any, values: Numbers) -> None:
    import highspy

    solution = highspy.HighsSolution()
    solution.col_value = list(values)
    solution.value_valid = True
    highs.setSolution(solution)


def _progress(out: Any, began: float) -> Progress:
    price, bound = float(out.mip_primal_bound), float(out.mip_dual_bound)
    p = price if np.isfinite(price) else None
    b = bound if np.isfinite(bound) else None
    gap = (p - b) / max(abs(p), 1e-9) if p is not None and b is not None else None
    return Progress(p, b, gap, time.monotonic() - began)


def _answer(highs: Any, best: list[Numbers], whole: bool, seconds: float) -> Answer:
    import highspy

    status, s = highs.getModelStatus(), highspy.HighsModelStatus
    info = highs.getInfo()
    nodes = max(0, int(info.mip_node_count))
    if status in (s.kInfeasible, s.kUnboundedOrInfeasible):
        return Answer("infeasible", None, float("inf"), float("inf"), seconds, nodes)
    has = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    values = np.array(highs.getSolution().col_value, dtype=np.float64) if has else (best[0] if best else None)
    price = float(info.objective_function_value) if has else float("inf")
    bound = float(info.mip_dual_bound) if whole else price
    if status in (s.kOptimal, s.kModelEmpty):
        return Answer("optimal", values, price, min(bound, price), seconds, nodes)
    if status in (s.kTimeLimit, s.kInterrupt, s.kSolutionLimit, s.kObjectiveTarget, s.kIterationLimit):
        return Answer("stopped" if values is not None else "none", values, price, bound, seconds, nodes)
    raise RuntimeError(f"the solver stopped with {highs.modelStatusToString(status)}")
