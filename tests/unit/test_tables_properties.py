"""Monotone senses of the tables: bigger never carries less, more company and more heat never help."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from relet.errors import OutsideTable
from relet.tables import assemblies, cables, protection, table
from relet.working import fact

ARRANGEMENTS = sorted({r.text("arrangement") for r in table("grouping_factor").rows})
CURRENT_TABLES = ("4D1A", "4D2A", "4D4A", "4D5", "4E1A", "4E2A", "4E4A", "4F1A", "4F2A", "IEC_PVC", "IEC_XLPE")
GROUPS = sorted({(t, r.text("method"), r.text("loading")) for t in CURRENT_TABLES for r in table(f"ccc_{t}").rows})


@given(st.sampled_from(GROUPS), st.data())
def test_a_bigger_conductor_never_carries_less(group: tuple[str, str, str], data: st.DataObject) -> None:
    sizes = cables.sizes(*group)
    small, big = sorted(data.draw(st.tuples(st.sampled_from(sizes), st.sampled_from(sizes))))
    assert cables.current_rating(*group, small) <= cables.current_rating(*group, big)


@given(st.sampled_from(GROUPS), st.data())
def test_a_bigger_conductor_never_drops_more(group: tuple[str, str, str], data: st.DataObject) -> None:
    name, method, loading = group
    if name.startswith("IEC") or method.startswith("tray"):
        return
    sizes = [s for s in cables.sizes(*group) if table("vd_" + cables._drop_name(name)).where(csa_mm2=s)]
    small, big = sorted(data.draw(st.tuples(st.sampled_from(sizes), st.sampled_from(sizes))))
    assert cables.volt_drop(name, method, loading, big).z <= cables.volt_drop(name, method, loading, small).z


@given(st.sampled_from(ARRANGEMENTS), st.integers(1, 30), st.integers(0, 30))
def test_more_circuits_never_raise_the_grouping_factor(arrangement: str, few: int, more: int) -> None:
    try:
        crowded = cables.grouping_factor(arrangement, few + more)
    except OutsideTable:
        return
    assert crowded <= cables.grouping_factor(arrangement, few) <= 1


@given(
    st.sampled_from((60, 70, 90)),
    st.sampled_from(("air", "ground")),
    st.floats(-20, 90, allow_nan=False),
    st.floats(0, 60, allow_nan=False),
)
def test_hotter_never_raises_the_ambient_factor(insulation: int, medium: str, cool_c: float, by: float) -> None:
    for base in ("BS", "IEC"):
        try:
            hot = cables.ambient_factor(insulation, cool_c + by, medium, base)
        except OutsideTable:
            continue
        assert hot <= cables.ambient_factor(insulation, cool_c, medium, base)


@given(st.floats(0.08, 11.5), st.floats(0.08, 11.5))
def test_a_larger_enclosure_is_never_hotter(a: float, b: float) -> None:
    small, large = sorted((a, b))
    k = [assemblies.enclosure_constant(fact("ae", x, "m2", "chosen")) for x in (small, large)]
    assert k[1] <= k[0] * (1 + 0.002)  # the two curves meet at 1.25 m2 with 0.523 and 0.524


@given(st.integers(1, 40), st.integers(0, 20), st.sampled_from(("IEC 61439-2", "IEC 61439-3", "IEC 61439-4")))
def test_more_loaded_circuits_never_raise_the_diversity_factor(few: int, more: int, standard: str) -> None:
    assert assemblies.rated_diversity_factor(few + more, standard) <= assemblies.rated_diversity_factor(few, standard)


@given(st.sampled_from(protection.gg_ratings()))
def test_a_fuse_gate_is_a_band(in_a: float) -> None:
    gates = protection.gg_gates(in_a)
    assert gates.imin_10s < gates.imax_5s < gates.imax_0p1s
    assert gates.imin_10s < gates.imin_0p1s < gates.imax_0p1s
