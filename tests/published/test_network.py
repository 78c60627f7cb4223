"""Network differential checks: the printed answers of worked examples.

- WE29: pandapower (open-source general-purpose grid library), test suite and example networks, University of Kassel
  and Fraunhofer IEE, repository snapshot 2026; package 3.5.6 where a figure is computed.

- net_two_bus_400v_unbalanced: WE29, three-phase load-flow test, two-bus line; 9 values, status V1
- net_lv_fault_max: WE29, invented network, computed with version 3.5.6; 8 values, status C

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("network differential checks")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
