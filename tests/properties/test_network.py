"""What must hold for every network: more load, longer or thinner conductors never raise a voltage at the load."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from relet.electrical.network import Loads, Network, balanced_v, solve

U0 = 230.0


@st.composite
def networks(draw):
    n = draw(st.integers(2, 12))
    parent = np.array([-1, *(draw(st.integers(0, i - 1)) for i in range(1, n))])
    ohm = st.floats(0.001, 0.03)
    line = np.array([complex(draw(ohm), draw(ohm) / 5) for _ in range(n)])
    neutral = np.array([complex(draw(ohm), draw(ohm) / 5) for _ in range(n)])
    va = st.floats(0, 900)
    power = np.array([[complex(draw(va), 0) for _ in range(3)] for _ in range(n)])
    power[0] = 0
    return parent, line, neutral, power


def solved(parent, line, neutral, power, **loads):
    return solve(Network(parent, line, neutral, balanced_v(U0)), Loads(power_va=power, **loads), tolerance=1e-12)


@given(networks())
@settings(max_examples=60, deadline=None)
def test_kirchhoff_and_power(case):
    parent, _, _, power = case
    s = solved(*case)
    drawn = np.conj(power / s.u_v)
    for node in range(len(parent)):
        below = s.line_a[parent == node].sum(axis=0)
        assert np.allclose(s.line_a[node], drawn[node] + below, atol=1e-6)
    assert np.allclose(s.line_a.sum(-1) + s.neutral_a, 0, atol=1e-9)
    supplied = (balanced_v(U0) * np.conj(s.line_a[0])).sum().real
    assert np.isclose(supplied, power.sum().real + s.loss_w.sum(), rtol=1e-6)


@given(networks(), st.floats(1.0, 1.5))
@settings(max_examples=60, deadline=None)
def test_more_load_or_more_length_never_lowers_the_losses(case, factor):
    parent, line, neutral, power = case
    now = solved(*case).loss_w.sum()
    assert solved(parent, line, neutral, power * factor).loss_w.sum() >= now * (1 - 1e-9)
    assert solved(parent, line * factor, neutral * factor, power).loss_w.sum() >= now * (1 - 1e-9)


@given(networks(), st.floats(1.0, 2.0))
@settings(max_examples=60, deadline=None)
def test_longer_never_raises_the_voltage_under_a_balanced_load(case, factor):
    parent, line, neutral, power = case
    power = np.repeat(power[:, :1], 3, axis=1)
    short = abs(solved(parent, line, neutral, power).u_v)
    long = abs(solved(parent, line * factor, neutral * factor, power).u_v)
    assert (long <= short + 1e-7).all()


@given(networks())
@settings(max_examples=40, deadline=None)
def test_turning_the_phases_turns_the_result(case):
    parent, line, neutral, power = case
    a, b = solved(*case), solved(parent, line, neutral, np.roll(power, 1, axis=1))
    assert np.allclose(abs(b.u_v), np.roll(abs(a.u_v), 1, axis=1), atol=1e-7)
    assert np.allclose(abs(b.neutral_a), abs(a.neutral_a), atol=1e-6)
