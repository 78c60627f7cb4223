"""Heat in an enclosure: a printed surface example, IEC TR 60890 by hand, losses and ratings inside."""

import pytest

from relet.electrical.heat import (
    Faces,
    all_losses,
    allowed_losses,
    cooling_needed,
    declared_allowed_losses,
    declared_rise,
    derated,
    derated_by_limit,
    effective_surface,
    governing,
    height_over_floor,
    height_over_width,
    inside_temperature,
    loaded_current,
    loaded_limit,
    metres,
    pole_losses,
    rated_there,
    resistance_losses,
    rise,
    side_by_side,
    spare_percent,
    through_walls,
    wire_losses,
    wire_rating,
    wiring_share,
)  # fmt: skip
from relet.tables.assemblies import (
    enclosure_constant,
    free_air_share,
    heat_exponent,
    height_exponent,
    height_factor,
    partition_factor,
    surface_factor,
)  # fmt: skip
from relet.working import Figure, fact, weakest_ground


def f(value: float, unit: str = "", name: str = "x") -> Figure:
    return fact(f"test.{name}", value, unit, "chosen")


def on_a_wall() -> Faces:
    side = surface_factor("exposed side faces incl. front and free rear")
    return Faces(
        surface_factor("exposed top surface"), side, surface_factor("covered rear side of wall-mounted enclosure"),
        side, side, surface_factor("floor surface"),
    )  # fmt: skip


@pytest.mark.parametrize("ambient, walls, cooling", [
    (30, 179.52, 820.48), (35, 0.0, 1000.0), (40, -179.52, 1179.52), (45, -359.04, 1359.04), (50, -538.56, 1538.56),
])  # fmt: skip
def test_wall_cabinet(ambient, walls, cooling):
    # worked note of a cooling equipment maker, effective surface to DIN 57660 / IEC 890: 6.528 m2
    ae = effective_surface(f(1.2, "m"), f(2.0, "m"), f(0.6, "m"), on_a_wall())
    assert ae == pytest.approx(6.528)
    q = through_walls(f(5.5, "W/(m2 K)"), ae, f(35, "degC"), f(ambient, "degC"))
    assert q == pytest.approx(walls)
    assert cooling_needed(f(1000, "W"), q) == pytest.approx(cooling)


def test_small_enclosure_by_the_published_curves():
    # 0.6 x 0.4 x 0.2 m on a wall, 40 W; computed by hand from the remembered tables of IEC TR 60890, not published:
    # Ae 0.664, k 0.836, 16.2 K at half height, g 1.5, c 1.23, 20.0 K at the top, 55.0 C in 35 C
    w, h, d = (metres(f(x, "mm")) for x in (400, 600, 200))
    ae = effective_surface(w, h, d, on_a_wall())
    assert ae == pytest.approx(0.664)
    k, c = enclosure_constant(ae), height_factor(height_over_width(h, w), ae)
    assert partition_factor(0, ae) is None
    found = rise(f(40, "W"), k, c, heat_exponent())
    # a straight line between points of the hollow k curve lies a little on its hot side, hence 0.1 K
    assert found.middle_k == pytest.approx(16.2, abs=0.1)
    assert found.top_k == pytest.approx(20.0, abs=0.15)
    inside = inside_temperature(f(35, "degC"), found.top_k)
    assert inside == pytest.approx(55.0, abs=0.15)
    assert weakest_ground([inside]) == "from memory"
    allowed = allowed_losses(inside, f(35, "degC"), k, c, heat_exponent())
    assert allowed == pytest.approx(40)
    assert spare_percent(allowed, f(30, "W")) == pytest.approx(25)


def test_large_enclosure_with_partitions():
    w, h, d = f(0.8, "m"), f(2.0, "m"), f(0.4, "m")
    ae = effective_surface(w, h, d, on_a_wall())
    k, parts = enclosure_constant(ae), partition_factor(2, ae)
    c = height_factor(height_over_floor(h, height_exponent(), w, d), ae)
    plain, parted = rise(f(300, "W"), k, c, heat_exponent()), rise(f(300, "W"), k, c, heat_exponent(), parts)
    assert parted.top_k == pytest.approx(float(parts) * plain.top_k) and parted.top_k > plain.top_k
    inside = inside_temperature(f(30, "degC"), parted.top_k)
    assert allowed_losses(inside, f(30, "degC"), k, c, heat_exponent(), parts) == pytest.approx(300)


def test_the_abscissa_of_the_other_size_is_refused():
    w, h, d = f(0.8, "m"), f(1.2, "m"), f(0.3, "m")
    ratio, over_floor = height_over_width(h, w), height_over_floor(h, height_exponent(), w, d)
    with pytest.raises(TypeError, match="large"):
        height_factor(ratio, f(1.26, "m2"))
    with pytest.raises(TypeError, match="small"):
        height_factor(over_floor, f(1.25, "m2"))
    with pytest.raises(TypeError):
        height_factor(f(1.5), f(0.6, "m2"))


def test_ambient_above_the_limit_allows_nothing():
    assert allowed_losses(f(40, "degC"), f(45, "degC"), f(1, "K/W^x"), f(1.2), f(0.804)) == 0
    assert declared_allowed_losses(f(40, "degC"), f(45, "degC"), f(2, "W/K")) < 0


def test_declared_dissipation():
    assert declared_rise(f(45, "W"), f(3, "W/K")) == 15
    assert declared_allowed_losses(f(55, "degC"), f(35, "degC"), f(3, "W/K")) == 60


def test_losses():
    poles = pole_losses(f(3), f(3.69, "W"), f(16, "A"), f(32, "A"))
    assert poles == pytest.approx(3 * 3.69 / 4)
    assert resistance_losses(f(3), f(3.6, "mohm"), f(32, "A")) == pytest.approx(3 * 3.6e-3 * 1024)
    wires = wire_losses(f(3), f(3.69, "mohm/m"), f(0.5, "m"), f(32, "A"))
    assert wires == pytest.approx(3 * 3.69e-3 * 0.5 * 1024)
    assert wiring_share(poles, f(0.3)) == pytest.approx(0.3 * poles)
    assert all_losses([poles, wires]) == pytest.approx(poles + wires)
    # with the rated diversity factor losses fall with its square
    less = pole_losses(f(3), f(3.69, "W"), loaded_current(f(32, "A"), f(0.7)), f(32, "A"))
    assert less == pytest.approx(0.49 * 3 * 3.69)


def test_rated_current_there():
    # 32 A by calculation is a 25.6 A circuit unless its maker declares better (IEC 61439-1 10.10.4, from memory)
    inc = rated_there(f(32, "A"), free_air_share())
    assert inc == pytest.approx(25.6)
    assert rated_there(f(32, "A"), free_air_share(), f(32, "A")) == 32
    assert wire_rating(inc, f(1.25)) == pytest.approx(32)
    assert loaded_limit(inc, f(0.8)) == pytest.approx(20.48)


def test_derating():
    assert derated(f(32, "A"), f(50, "degC"), f(30, "degC"), f(0.5, "%/K")) == pytest.approx(28.8)
    assert derated(f(32, "A"), f(20, "degC"), f(30, "degC"), f(0.5, "%/K")) == 32
    assert derated(f(32, "A"), f(300, "degC"), f(30, "degC"), f(0.5, "%/K")) == 0
    assert derated_by_limit(f(32, "A"), f(30, "degC"), f(30, "degC"), f(110, "degC")) == 32
    assert derated_by_limit(f(32, "A"), f(90, "degC"), f(30, "degC"), f(110, "degC")) == pytest.approx(16)
    assert derated_by_limit(f(32, "A"), f(120, "degC"), f(30, "degC"), f(110, "degC")) == 0
    assert side_by_side(f(32, "A"), f(0.8)) == pytest.approx(25.6)
    assert governing(f(28, "A"), f(25.6, "A"), f(30, "A")) == 25.6
