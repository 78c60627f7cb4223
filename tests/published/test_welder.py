"""Arc welder effective current: the printed answers of worked examples.

- M: from memory, not opened, as named in the entry.

- wel_60pc: M, IEC 60974-1, I1eff = I1max sqrt(X), idle current neglected; 1 value, status M

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("arc welder effective current")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
