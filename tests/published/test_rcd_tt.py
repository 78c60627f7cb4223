"""RCD and TT electrode: the printed answers of worked examples.

- WE22: Some advice on testing (post listing electrode limits for RCD ratings), ElectriciansForums thread 52683,
  17th edition; forum, weak source.

- rcd_ra_limits_30_100: WE22, post; 2 values, status V1
- rcd_ra_limits_300_500: WE22, post; 2 values, status V1

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("RCD and TT electrode")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
