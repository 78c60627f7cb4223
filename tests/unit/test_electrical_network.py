"""The network solver against an analytic case, a published network and its own limits."""

import numpy as np
import pytest

from relet.electrical.network import (
    Loads,
    Network,
    balanced_v,
    line_current,
    loss,
    sequence_matrix,
    solve,
    voltage,
)
from relet.errors import NotSolved
from relet.working import Solved, fact, leaves, step_of

U0 = 230.0


def q(value, unit="", path="test.x"):
    return fact(path, value, unit, "assumed")


def one_branch(z_line=0.1 + 0.02j, z_neutral=0.2 + 0.03j):
    return Network(np.array([-1, 0]), np.array([0, z_line]), np.array([0, z_neutral]), balanced_v(U0))


def at_node_1(*lines):
    out = np.zeros((2, 3), complex)
    out[1] = lines
    return out


def test_one_impedance_on_one_line_is_a_voltage_divider():
    y = 1 / (10 + 2j)
    s = solve(one_branch(), Loads(admittance_s=at_node_1(y, 0, 0)), tolerance=1e-13)
    i = U0 / (10 + 2j + 0.1 + 0.02j + 0.2 + 0.03j)
    assert s.line_a[1, 0] == pytest.approx(i, rel=1e-9)
    assert s.neutral_a[1] == pytest.approx(-i, rel=1e-9)
    assert s.u_v[1, 0] == pytest.approx(i * (10 + 2j), rel=1e-9)
    assert s.neutral_v[1] == pytest.approx(i * (0.2 + 0.03j), rel=1e-9)
    # the other two lines carry nothing, but their voltage shifts with the neutral
    assert s.u_v[1, 1] == pytest.approx(balanced_v(U0)[1] - i * (0.2 + 0.03j), rel=1e-9)
    assert s.loss_w[1] == pytest.approx(abs(i) ** 2 * 0.3, rel=1e-9)


def test_constant_current_keeps_its_size_and_its_angle_to_the_voltage():
    s = solve(one_branch(), Loads(current_a=at_node_1(20 * np.exp(-0.5j), 0, 0)), tolerance=1e-13)
    assert abs(s.line_a[1, 0]) == pytest.approx(20)
    assert np.angle(s.u_v[1, 0] / s.line_a[1, 0]) == pytest.approx(0.5)


def test_constant_power_is_what_is_taken():
    s = solve(one_branch(), Loads(power_va=at_node_1(3000 + 1000j, 0, 2000)), tolerance=1e-13)
    assert s.u_v[1, 0] * np.conj(s.line_a[1, 0]) == pytest.approx(3000 + 1000j, rel=1e-9)
    assert s.u_v[1, 2] * np.conj(s.line_a[1, 2]) == pytest.approx(2000, rel=1e-9)


def test_load_between_two_lines_enters_both_and_leaves_the_neutral_alone():
    s = solve(one_branch(), Loads(pair_power_va=at_node_1(8000 + 3000j, 0, 0)), tolerance=1e-13)
    assert s.line_a[1, 0] == pytest.approx(-s.line_a[1, 1], rel=1e-9)
    assert abs(s.line_a[1, 2]) < 1e-9 and abs(s.neutral_a[1]) < 1e-9
    assert s.pair_v[1, 0] * np.conj(s.line_a[1, 0]) == pytest.approx(8000 + 3000j, rel=1e-9)


@pytest.mark.parametrize("kind", ["pair_current_a", "pair_admittance_s"])
def test_the_other_kinds_between_two_lines(kind):
    value = 12.0 if kind == "pair_current_a" else 0.03
    s = solve(one_branch(), Loads(**{kind: at_node_1(0, value, 0)}), tolerance=1e-13)
    expected = 12.0 if kind == "pair_current_a" else 0.03 * abs(s.pair_v[1, 1])
    assert abs(s.line_a[1, 1]) == pytest.approx(expected)
    assert s.line_a[1, 1] == pytest.approx(-s.line_a[1, 2], rel=1e-9)


def test_balanced_load_leaves_the_neutral_empty():
    s = solve(one_branch(), Loads(power_va=at_node_1(5000, 5000, 5000)))
    assert abs(s.neutral_a[1]) < 1e-9
    assert np.ptp(abs(s.u_v[1])) < 1e-9


def test_power_in_is_power_out_and_loss():
    n = 6
    net = Network(np.array([-1, 0, 1, 1, 3, 0]), np.full(n, 0.05 + 0.01j), np.full(n, 0.08 + 0.01j), balanced_v(U0))
    rng = np.random.default_rng(3)
    load = rng.uniform(0, 3000, (n, 3)) * (1 + 0.4j)
    load[0] = 0
    s = solve(net, Loads(power_va=load), tolerance=1e-13)
    supplied = (balanced_v(U0) * np.conj(s.line_a[0])).sum()
    assert supplied.real == pytest.approx(load.sum().real + s.loss_w.sum(), rel=1e-9)
    # branch current is what is drawn below it
    assert s.line_a[1] == pytest.approx(s.line_a[2] + s.line_a[3] + np.conj(load[1] / s.u_v[1]), rel=1e-9)


def test_numbering_of_nodes_does_not_matter():
    z = np.array([0, 0.1, 0.2, 0.3]) + 0.01j
    load = np.zeros((4, 3), complex)
    load[3] = 2000, 500, 0
    load[2] = 100, 200, 300
    a = solve(Network(np.array([-1, 0, 1, 1]), z, z, balanced_v(U0)), Loads(power_va=load))
    swap = [0, 3, 2, 1]
    b = solve(Network(np.array([-1, 3, 3, 0]), z[swap], z[swap], balanced_v(U0)), Loads(power_va=load[swap]))
    assert b.u_v[swap] == pytest.approx(a.u_v)
    assert b.line_a[swap] == pytest.approx(a.line_a)


def test_cases_solved_together_are_those_solved_alone():
    net = one_branch()
    cases = np.stack([at_node_1(3000, 0, 0), at_node_1(0, 1000, 2000), at_node_1(0, 0, 0)])
    together = solve(net, Loads(power_va=cases), tolerance=1e-13)
    for k in range(3):
        alone = solve(net, Loads(power_va=cases[k]), tolerance=1e-13)
        assert together.case(k).u_v == pytest.approx(alone.u_v, rel=1e-11)


def test_lines_of_unequal_impedance():
    net = Network(np.array([-1, 0]), np.array([[0, 0, 0], [0.1, 0.2, 0.3]], complex), np.array([0, 0j]), balanced_v(U0))
    s = solve(net, Loads(current_a=at_node_1(10, 10, 10)))
    assert U0 - abs(s.u_v[1]) == pytest.approx([1, 2, 3])


def test_published_two_bus_network_with_unbalanced_loads():
    """pandapower's three-phase test of a two-bus line, 400 m of 185 mm2 (worked_examples: WE29, status V1).

    Positive sequence of the grid is an ideal source, negative and zero sequence carry c U2 / S. The source holds the
    cable's capacitance, which is left out here: 6e-6 pu and 0.02 A by the note of the example.
    """
    z = 1.1 * 400**2 / 10e6
    x = z / np.sqrt(1 + 0.1**2)
    grid = complex(0.1 * x, x)
    z1, z0 = complex(0.1013, 0.06911504) * 0.4, complex(0.4053, 0.2764602) * 0.4
    u = 400 / np.sqrt(3)
    net = Network(
        np.array([-1, 0]),
        np.array([0, z1]),
        np.array([0, (z0 - z1) / 3]),
        balanced_v(u),
        sequence_matrix(grid, 0, grid),
    )
    kva = at_node_1(23.3333 + 13.3333j, 18.3333 + 8.3333j, 28.3333 + 13.3333j)
    s = solve(net, Loads(power_va=1000 * kva))
    assert abs(s.u_v[0]) / u == pytest.approx([0.99939854, 1.00138851, 0.9992158], abs=6e-6)
    assert abs(s.u_v[1]) / u == pytest.approx([0.97401782, 0.98945594, 0.96329606], abs=6e-6)
    assert abs(s.line_a[1]) == pytest.approx([119.4708, 88.1316, 140.7506], abs=0.02)
    assert abs(s.neutral_a[1]) == pytest.approx(35.05, abs=0.01)  # "recomputed" of the example


def test_published_four_wire_currents_of_unequal_loads():
    """Neutral of a star of pure resistances: phasor sum (any textbook; 20, 15, 10 A give sqrt(75) A)."""
    s = solve(one_branch(0, 0), Loads(current_a=at_node_1(20, 15, 10)))
    assert abs(s.neutral_a[1]) == pytest.approx(np.sqrt(75))


def test_more_than_the_network_can_carry_has_no_answer():
    with pytest.raises(NotSolved) as e:
        solve(one_branch(1, 1), Loads(power_va=at_node_1(60_000, 0, 0)))
    assert "no solution after" in str(e.value) and e.value.residual > 1e-9


@pytest.mark.parametrize(
    ("parent", "words"),
    [([-1, 2, 1], "2 of 3 nodes are not fed"), ([-1, 0, 7], "node 2 has parent 7"), ([0, 0, 1], "node 0 must be")],
)
def test_what_is_no_tree_is_refused(parent, words):
    z = np.zeros(3, complex)
    with pytest.raises(ValueError, match=words):
        solve(Network(np.array(parent), z, z, balanced_v(U0)), Loads(power_va=np.zeros((3, 3), complex)))


def test_what_is_not_finite_or_does_not_fit_is_refused():
    z = np.zeros(2, complex)
    with pytest.raises(ValueError, match="not finite"):
        Network(np.array([-1, 0]), np.array([0, np.nan]), z, balanced_v(U0))
    with pytest.raises(ValueError, match="2 nodes, but"):
        Network(np.array([-1, 0]), np.zeros(3, complex), z, balanced_v(U0))


def test_results_as_figures_remember_facts_method_and_residual():
    length = q(12.0, "m", "standing.runs.R7.length_m")
    s = solve(one_branch(), Loads(power_va=at_node_1(3000, 0, 0)))
    u = voltage(s, 1, 0, [length])
    assert u.unit == "V" and float(u) == pytest.approx(abs(s.u_v[1, 0]))
    assert isinstance(u.origin, Solved) and u.origin.residual == s.residual <= 1e-9
    assert leaves(u) == [length]
    assert "backward/forward sweep" in step_of(u).text
    assert [f.unit for f in (line_current(s, 1, 0, [length]), loss(s, [length]))] == ["A", "W"]
