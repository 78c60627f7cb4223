"""Shortest ways in small graphs."""

from __future__ import annotations

import heapq
from collections.abc import Collection, Mapping

import numpy as np
import numpy.typing as npt

Edges = Mapping[int, Collection[tuple[int, float]]]
"""Node -> (neighbour, length) of every edge that leaves it."""


def dijkstra(edges: Edges, source: int, ends: Collection[int] = ()) -> tuple[dict[int, float], dict[int, int]]:
    """Length of the shortest way from `source` to every node it reaches, and the node before each on that way.

    ends  nodes where a way may end and which it never passes through (the source excepted)
    """
    length: dict[int, float] = {source: 0.0}
    before: dict[int, int] = {}
    done: set[int] = set()
    heap = [(0.0, source)]
    while heap:
        d, u = heapq.heappop(heap)
        if u in done:
            continue
        done.add(u)
        if u in ends and u != source:
            continue
        for v, w in edges.get(u, ()):
            if d + w < length.get(v, float("inf")):
                length[v], before[v] = d + w, u
                heapq.heappush(heap, (d + w, v))
    return length, before


def way_back(before: Mapping[int, int], source: int, target: int) -> list[int]:
    """Nodes from `source` to `target`, both included."""
    way = [target]
    while way[-1] != source:
        way.append(before[way[-1]])
    return way[::-1]


def closure(weights: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """All shortest lengths from edge lengths (inf: no edge), shape (n, n), by Floyd and Warshall's method."""
    d = weights.copy()
    np.fill_diagonal(d, 0.0)
    for k in range(len(d)):
        np.minimum(d, d[:, k, None] + d[k], out=d)
    return d
