"""Conductor resistance and test values: the printed answers of worked examples.

- WE25: Continuity of final circuit conductors, radial, personal reference page (electricalreference), 17th edition.
- WE26: Ring (derivation of L-E readings round a ring final circuit), document-sharing site, document 72915510,
  undated.

- con_split_r1_r2: WE25, example; 2 values, status C
- con_ring_readings: WE26, derivation; 2 values, status C

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("conductor resistance and test values")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
