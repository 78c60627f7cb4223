"""Unbalance, neutral current, power factor: the printed answers of worked examples.

- WE10: Principles of Power System (worked examples with printed results in an open companion collection), V. K.
  Mehta and R. Mehta, S. Chand; companion files: FOSSEE, IIT Bombay, Scilab textbook companions, folder 98, 4th
  edition pagination; companion about 2011.
- WE11: Electrical Circuit Theory and Technology, chapter 20 (inputs and method in an open companion collection), J.
  Bird, Newnes; companion files: FOSSEE, IIT Bombay, Scilab textbook companions, folder 1529, 2nd/3rd edition
  numbering.
- M: from memory, not opened, as named in the entry.
- WE08: Questions Electrotecniques Diverses (open textbook, Catalan), J. Mollera Barriga; self-published, sources in
  a public repository, version 15.0, 2005-2025.
- WE31: Power factor improvement worked solution (same figures as WE10 Example 6.4), web site howengineeringworks,
  question page, undated.

- unb_10_8_5_kw: WE10, Example 14.7, page 368; 4 values, status V1
- unb_lamps_and_motor: WE10, Example 14.8, page 369; 6 values, status V1
- unb_four_wire_drop: WE10, Example 14.10, page 371; 4 values, status V1
- unb_24_18_12_kw_415: WE11, M, Problem 20.4; 4 values, status M+
- unb_star_point_shift: WE08, chapter 1, Millman theorem, neutral current; 6 values, status V1
- pf_correction_5kw: WE10, WE31, Example 6.4, page 111; 2 values, status V2

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("unbalance, neutral current, power factor")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
