"""Reduced low voltage 110 V: the printed answers of worked examples.

- M: from memory, not opened, as named in the entry.

- rlv_5kva_single_phase: M, computed from P/U; Table 41.6 values as remembered; 2 values, status M

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("reduced low voltage 110 V")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
