"""Earth fault loop and disconnection: the printed answers of worked examples.

- WE01: Basic Electrical Installation Work, T. Linsley; Newnes/Elsevier, then Routledge, 17th-Edition-Regulations
  printing (printed pages 250, 251, 301, 302, 354) and 9th edition (page 207).
- WE12: Calculation of earth fault loop impedance (worked sheet posted for new starters), IET EngX forum, Wiring and
  Regulations, thread 24378, 2010s-2020s; community post, apparently from a supply-industry handbook.
- WE09: Handbook of Electrical Engineering: for practitioners in the oil, gas and petrochemical industry, A. L.
  Sheldrake; Wiley, 2003.

- efl_type_b_old_limits: WE01, printed page 250, Table 12.2; 7 values, status V1
- efl_three_stage_r_x: WE12, opening post; 9 values, status V1
- efl_swa_motor_loop: WE09, page 241, Table 9.35; 5 values, status V2
- efl_braid_motor_loop: WE09, page 240, Table 9.34; 5 values, status V2
- efl_fuse_limits_415v: WE09, page 238, Table 9.31; 4 values, status V2

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("earth fault loop and disconnection")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
