"""Adiabatic equation: the printed answers of worked examples.

- WE01: Basic Electrical Installation Work, T. Linsley; Newnes/Elsevier, then Routledge, 17th-Edition-Regulations
  printing (printed pages 250, 251, 301, 302, 354) and 9th edition (page 207).
- WE08: Questions Electrotecniques Diverses (open textbook, Catalan), J. Mollera Barriga; self-published, sources in
  a public repository, version 15.0, 2005-2025.
- WE16: Calculation of thermally permissible short-circuit current (teaching slides on IEC 60949:1988 and IEC
  60364-5-54:2011), document-sharing site, document 25320408, undated.
- WE09: Handbook of Electrical Engineering: for practitioners in the oil, gas and petrochemical industry, A. L.
  Sheldrake; Wiley, 2003.

- adi_ring_cpc_1p5: WE01, printed pages 250-251, Example 1; 3 values, status V1
- adi_50mm2_epr_time: WE08, chapter 7, thermal capacity; 1 value, status V1
- adi_95mm2_xlpe_1s: WE16, IEC 60949 example 2, first part; 2 values, status C and V1
- adi_fuses_5s_k143: WE09, page 238, Table 9.32; 8 values, status V2
- adi_fuses_5s_turned_round: WE09, page 238, Table 9.32; 4 values, status V2

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("adiabatic equation")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
