"""Our four-wire solution against pandapower's unbalanced power flow, on the same network in the same run.

pytest benchmarks/bench_network.py -n0 -s

Each side starts from its own description of the network and solves it whole: ours builds the tree and solves,
pandapower converts its tables and solves. The least of several runs counts on both sides. The budget is a ratio of 50.
numba, where it is installed, helps pandapower and is used.
"""

import importlib.util
import math
import warnings
from time import perf_counter

import numpy as np
import pandapower as pp
import pytest

from relet.electrical.network import Loads, Network, balanced_v, solve

RATIO = 50
U0_V = 400 / math.sqrt(3)
NUMBA = importlib.util.find_spec("numba") is not None


def unit_of(nodes):
    """A tapped run through a unit with a drop and two circuits at each tap: parent, impedance, loads."""
    rng = np.random.default_rng(4)
    parent, z, ends, spine = [-1], [0j], [], 0
    while len(parent) < nodes:
        parent.append(spine)
        z.append(0.004 + 0.0004j)
        spine = len(parent) - 1
        parent.append(spine)
        z.append(0.006 + 0.0003j)
        drop = len(parent) - 1
        for _ in range(2):
            parent.append(drop)
            z.append(0.05 + 0.001j)
            ends.append(len(parent) - 1)
    power = np.zeros((len(parent), 3), complex)
    for end in ends:
        power[end, rng.integers(3)] = rng.uniform(200, 24_000 / nodes * 3) * (1 + 0.3j)
    return np.array(parent), np.array(z), power


def ours(parent, z, power):
    return solve(Network(parent, z, z, balanced_v(U0_V)), Loads(power_va=power))


def as_pandapower(parent, z, power):
    net = pp.create_empty_network(sn_mva=0.1)
    buses = pp.create_buses(net, len(parent), 0.4)
    pp.create_ext_grid(net, buses[0], s_sc_max_mva=1e7, rx_max=0.1, x0x_max=1.0, r0x0_max=0.1)
    r, x = z[1:].real, z[1:].imag
    pp.create_lines_from_parameters(
        net, parent[1:], np.arange(1, len(parent)), 1.0, r, x, 0.0, 1.0,
        r0_ohm_per_km=4 * r, x0_ohm_per_km=4 * x, c0_nf_per_km=0.0,
    )  # fmt: skip
    for node in np.flatnonzero(np.abs(power).sum(1)):
        a, b, c = power[node] / 1e6
        pp.create_asymmetric_load(
            net, node, p_a_mw=a.real, q_a_mvar=a.imag, p_b_mw=b.real, q_b_mvar=b.imag, p_c_mw=c.real, q_c_mvar=c.imag
        )
    return net


def theirs(net):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        pp.runpp_3ph(net, numba=NUMBA, tolerance_mva=1e-8)


@pytest.mark.parametrize("nodes", [40, 73, 300])
def test_ratio_to_pandapower(benchmark, nodes):
    parent, z, power = unit_of(nodes)
    net = as_pandapower(parent, z, power)
    theirs(net)
    peer = []
    for _ in range(7):
        start = perf_counter()
        theirs(net)
        peer.append(perf_counter() - start)
    s = benchmark(ours, parent, z, power)
    volts = net.res_bus_3ph[["vm_a_pu", "vm_b_pu", "vm_c_pu"]].to_numpy() * U0_V
    assert abs(s.u_v) == pytest.approx(volts, rel=1e-4)
    if benchmark.disabled:
        pytest.skip("measured only with benchmarks switched on")
    mine_s, peer_s = benchmark.stats.stats.min, min(peer)
    ratio = peer_s / mine_s
    benchmark.extra_info |= {"nodes": len(parent), "peer_ms": peer_s * 1e3, "ratio": ratio, "numba": NUMBA}
    print(f"\n{len(parent)} nodes: ours {mine_s * 1e3:.3f} ms, peer {peer_s * 1e3:.1f} ms: {ratio:.0f} x")
    assert ratio >= RATIO


@pytest.mark.parametrize("cases", [1, 100])
def test_load_cases_solved_together(benchmark, cases):
    """Many load cases of one network at once: the planner's and readiness's use."""
    parent, z, power = unit_of(73)
    net = Network(parent, z, z, balanced_v(U0_V))
    loads = Loads(power_va=power * np.linspace(0.2, 1.0, cases)[:, None, None])
    s = benchmark(solve, net, loads)
    assert s.u_v.shape == (cases, len(parent), 3)
