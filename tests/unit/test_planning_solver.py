"""The solver's door: small programmes solvable by hand, quiet output, stop keeps the best, hard stop, child process."""

from __future__ import annotations

import random
import subprocess
import sys
import threading
import time

import numpy as np
import pytest

from relet.planning.apart import solve_apart
from relet.planning.programme import Programme
from relet.planning.solver import Answer, Limits, Progress, solve


def knapsack() -> Programme:
    """Worth 10, 13, 7 at sizes 3, 4, 2 with room for 6: take the second and the third, worth 20."""
    p = Programme()
    take = [p.choice(f"take[{i}]", cost=-worth) for i, worth in enumerate((10, 13, 7))]
    p.at_most("room", list(zip((3.0, 4.0, 2.0), take)), 6.0)
    return p


def hard(seed: int = 4, items: int = 60, rows: int = 30) -> Programme:
    """A programme that keeps the solver busy for long: market split, with slack that costs."""
    rng = random.Random(seed)
    p = Programme()
    x = [p.choice(f"x[{i}]") for i in range(items)]
    for r in range(rows):
        weights = [float(rng.randint(0, 99)) for _ in range(items)]
        over = p.variable(f"over[{r}]", cost=1.0, high=1e5)
        under = p.variable(f"under[{r}]", cost=1.0, high=1e5)
        p.equal(f"split[{r}]", [*zip(weights, x), (1.0, over), (-1.0, under)], float(sum(weights) // 2))
    return p


@pytest.mark.parametrize("way", [solve, solve_apart])
def test_small_programme_by_hand(way) -> None:
    answer = way(knapsack().arrays(), Limits(seconds=10, gap=0.0, threads=1))
    assert answer.status == "optimal"
    assert answer.price == pytest.approx(-20)
    assert answer.values is not None and list(np.round(answer.values)) == [0, 1, 1]
    assert answer.bound <= answer.price + 1e-9


def test_infeasible_is_told() -> None:
    p = knapsack()
    p.at_least("all", [(1.0, 0), (1.0, 1), (1.0, 2)], 3.0)
    assert solve(p.arrays(), Limits(seconds=10)).status == "infeasible"


def test_a_plan_in_hand_is_taken() -> None:
    p = hard()
    first = solve(p.arrays(), Limits(seconds=1.0, gap=0.0, threads=1))
    assert first.values is not None
    again = solve(p.arrays(), Limits(seconds=1.0, gap=0.99, threads=1), start=first.values)
    assert again.price <= first.price + 1e-6


@pytest.mark.parametrize("way", [solve, solve_apart])
def test_stop_keeps_the_best(way) -> None:
    p, stop, seen = hard(), threading.Event(), []

    def watch(progress: Progress) -> None:
        seen.append(progress)
        if progress.price is not None:
            stop.set()

    began = time.monotonic()
    answer: Answer = way(p.arrays(), Limits(seconds=60, gap=0.0, threads=1), watch=watch, stop=stop)
    assert time.monotonic() - began < 20
    assert answer.status == "stopped" and answer.values is not None
    assert p.broken(answer.values, 1e-5) == []
    assert p.price(answer.values) == pytest.approx(answer.price, abs=1e-4)
    assert seen and all(s.bound is None or np.isfinite(s.bound) for s in seen)


def test_control_c_keeps_the_best() -> None:
    code = (
        "import os, signal, threading, sys; sys.path.insert(0, 'tests/unit')\n"
        "from test_planning_solver import hard; from relet.planning.apart import solve_apart\n"
        "from relet.planning.solver import Limits; from relet.planning.stopping import stop_on_interrupt\n"
        "once = threading.Event()\n"
        "def watch(p):\n"
        "    if p.price is not None and not once.is_set():\n"
        "        once.set(); os.kill(os.getpid(), signal.SIGINT)\n"
        "with stop_on_interrupt() as stop:\n"
        "    a = solve_apart(hard().arrays(), Limits(60, 0.0, 1), watch=watch, stop=stop)\n"
        "print(a.status, a.values is not None)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True)
    assert done.stdout == "stopped True\n"


def test_nothing_is_printed() -> None:
    code = (
        "import sys; sys.path.insert(0, 'tests/unit')\n"
        "from test_planning_solver import knapsack; from relet.planning.solver import Limits, solve\n"
        "solve(knapsack().arrays(), Limits()); solve(knapsack().arrays(), Limits())\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True)
    assert (done.stdout, done.stderr) == ("", "")


def test_runs_repeat() -> None:
    a, b = (solve(hard(7, 15, 2).arrays(), Limits(seconds=120, gap=0.0, threads=2, seed=3)) for _ in range(2))
    assert a.values is not None and b.values is not None
    assert np.array_equal(np.round(a.values, 6), np.round(b.values, 6))


def test_broken_rows_are_named() -> None:
    p = knapsack()
    assert p.broken([1.0, 1.0, 0.0]) == ["room"]
    assert p.broken([0.5, 0.0, 0.0]) == ["take[0]"]
    assert p.broken([0.0, 1.0, 1.0]) == []
