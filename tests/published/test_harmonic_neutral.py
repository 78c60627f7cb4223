"""Third-harmonic neutral current: the printed answers of worked examples.

- M: from memory, not opened, as named in the entry.
- WE21: Cable rating reduction factor due to harmonic currents (uses BS 7671 Table 4Aa, 2011), two copies of one
  engineer article, 2015 and 2022.

- har_annex_e_0_40: M, IEC 60364-5-52:2009 Annex E, examples; the annex text without the examples was seen in one
  copy; 6 values, status M
- har_25a_32pc_44pc: WE21, cases 1 and 2; 2 values, status C and V1

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("third-harmonic neutral current")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
