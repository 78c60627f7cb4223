"""Cable sizing and volt drop: the printed answers of worked examples.

- WE01: Basic Electrical Installation Work, T. Linsley; Newnes/Elsevier, then Routledge, 17th-Edition-Regulations
  printing (printed pages 250, 251, 301, 302, 354) and 9th edition (page 207).
- WE02: Exercises of sizing cable (extract of a UK college textbook, uses BS 7671 Tables 4D2A and 4D2B), uploaded
  study sheet, document-sharing site, document 608590163, 17th edition era.
- WE04: 25 kilowatt motor design (student exercise), document-sharing site, document 44690197, 16th/17th edition;
  anonymous, weak source.
- WE05: Voltage drop calculations, CSE Distributors technical pages, pre-2008 limits (2.5 percent), 415/240 V.
- WE06: Electrical Installation Guide, chapter G, section 3, Example 2, Schneider Electric, 2008 (page G23, Fig.
  G30).
- WE08: Questions Electrotecniques Diverses (open textbook, Catalan), J. Mollera Barriga; self-published, sources in
  a public repository, version 15.0, 2005-2025.
- WE09: Handbook of Electrical Engineering: for practitioners in the oil, gas and petrochemical industry, A. L.
  Sheldrake; Wiley, 2003.
- WE10: Principles of Power System (worked examples with printed results in an open companion collection), V. K.
  Mehta and R. Mehta, S. Chand; companion files: FOSSEE, IIT Bombay, Scilab textbook companions, folder 98, 4th
  edition pagination; companion about 2011.
- M: from memory, not opened, as named in the entry.

- csz_house_extension_6kw: WE01, WE02, printed pages 301-302 (17th) ; page 207 (9th edition); 6 values, status V2
- csz_process_heater_bs3036: WE02, example part (a); 4 values, status C and V1
- csz_process_heater_bs88: WE02, example part (b); 4 values, status C and V1
- csz_motor_25kw_singles_trunking: WE04, whole sheet; 6 values, status C and V1
- csz_100a_150m_vd_governs: WE05, example; 2 values, status V1
- csz_eig_line_plus_lighting_2008: WE06, 2008, page G23, Example 2; 5 values, status V2
- csz_three_parallel_240mm2: WE08, chapter 7, first example; 4 values, status V1
- csz_motor_feeder_running_drop: WE09, pages 238-239, Tables 9.30 and 9.33; 5 values, status V2
- csz_distributor_two_loads_a: WE10, Example 14.1, page 359; 5 values, status V1
- csz_ct_half_load: M, BS 7671 Appendix 4, item 6.1, formula as remembered; 1 value, status M

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("cable sizing and volt drop")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
