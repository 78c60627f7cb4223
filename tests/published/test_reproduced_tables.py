"""Printed tables whose rows a formula gives again. Counted apart from the worked examples.

- greatest loop, breakers, before the voltage factor: 28 rows of zs_mcb; ZS2
- k from temperatures: 29 rows of k_factors; S23, S54
- R1 + R2 from conductor resistances: 17 rows of r1_r2_copper; C, S17
- mV/A/m from conductor resistances: 8 rows of vd_4D1B, vd_4E1B; S06a, S06c, S04d
- z from r and x: 10 rows of vd_4D1B, vd_4E1B, vd_4E4B; S06a, S06c, S04d, S04e, S05a
- multipliers of resistance: 2 rows of temperature_coefficients; S16c
- motor currents from power: 8 rows of motor_current_3ph; MO1, MO2, MO13, MO12
- reduction factors by the square root law: 21 rows of ambient_factor; S49, S05b, S13b, S48, S10

Codes are those of the tables' register (relet/tables/data/sources.csv: title, publisher, edition, what was seen). Only
rows seen in print (V1, V2) and printed finely enough to show an error of two per cent. C beside another code:
the row was computed as well, and agrees.
"""

from published_list import of_topic, told


@of_topic("reproduced table: greatest loop, breakers, before the voltage factor")
def test_greatest_loop_breakers_before_the_voltage_factor(check):
    assert check.ok, told(check)


@of_topic("reproduced table: k from temperatures")
def test_k_from_temperatures(check):
    assert check.ok, told(check)


@of_topic("reproduced table: R1 + R2 from conductor resistances")
def test_r1_r2_from_conductor_resistances(check):
    assert check.ok, told(check)


@of_topic("reproduced table: mV/A/m from conductor resistances")
def test_mv_a_m_from_conductor_resistances(check):
    assert check.ok, told(check)


@of_topic("reproduced table: z from r and x")
def test_z_from_r_and_x(check):
    assert check.ok, told(check)


@of_topic("reproduced table: multipliers of resistance")
def test_multipliers_of_resistance(check):
    assert check.ok, told(check)


@of_topic("reproduced table: motor currents from power")
def test_motor_currents_from_power(check):
    assert check.ok, told(check)


@of_topic("reproduced table: reduction factors by the square root law")
def test_reduction_factors_by_the_square_root_law(check):
    assert check.ok, told(check)
