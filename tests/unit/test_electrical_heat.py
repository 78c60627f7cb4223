"""Heat in an enclosure: a printed surface example, IEC TR 60890 by hand, losses and ratings inside."""

import pytest

from relet.electrical.heat import (
    Faces,
    all_losses,
    allowed_losses,
    cooling_needed,
    declared_allowed_losses,
    effective_surface,
    height_over_floor,
    height_over_width,
    loaded_limit,
    metres,
    pole_losses,
    rated_there,
    through_walls,
    wiring_share,
)  # fmt: skip
from relet.tables.assemblies import (
    enclosure_constant,
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
    # a straight line between points of the hollow k curve lies a little on its hot side
    allowed = allowed_losses(f(55, "degC"), f(35, "degC"), k, c, heat_exponent())
    assert allowed == pytest.approx(40, rel=0.01) and allowed < 40
    assert weakest_ground([allowed]) == "from memory"


def test_large_enclosure_with_partitions():
    w, h, d = f(0.8, "m"), f(2.0, "m"), f(0.4, "m")
    ae = effective_surface(w, h, d, on_a_wall())
    k, parts = enclosure_constant(ae), partition_factor(2, ae)
    c = height_factor(height_over_floor(h, height_exponent(), w, d), ae)
    # the method the right way round: dt at the top = c k d P^x
    inside = 30 + float(c) * float(k) * float(parts) * 300 ** float(heat_exponent())
    assert allowed_losses(f(inside, "degC"), f(30, "degC"), k, c, heat_exponent(), parts) == pytest.approx(300)
    assert allowed_losses(f(inside, "degC"), f(30, "degC"), k, c, heat_exponent()) > 300


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
    assert declared_allowed_losses(f(55, "degC"), f(35, "degC"), f(3, "W/K")) == 60


def test_losses():
    poles = pole_losses(f(3), f(3.69, "W"), f(16, "A"), f(32, "A"))
    assert poles == pytest.approx(3 * 3.69 / 4)
    wires = wiring_share(poles, f(0.3))
    assert wires == pytest.approx(0.3 * poles)
    assert all_losses([poles, wires]) == pytest.approx(poles + wires)
    # with the rated diversity factor losses fall with its square
    less = pole_losses(f(3), f(3.69, "W"), loaded_limit(f(32, "A"), f(0.7)), f(32, "A"))
    assert less == pytest.approx(0.49 * 3 * 3.69)


def test_rated_current_there():
    # 32 A by calculation is a 25.6 A circuit unless its maker declares better (IEC 61439-1 10.10.4, from memory)
    inc = rated_there(f(32, "A"), f(0.8))
    assert inc == pytest.approx(25.6)
    assert rated_there(f(32, "A"), f(0.8), f(32, "A")) == 32
    assert loaded_limit(inc, f(0.8)) == pytest.approx(20.48)
