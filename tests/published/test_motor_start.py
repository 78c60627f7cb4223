"""Motor current and starting: the printed answers of worked examples.

- WE09: Handbook of Electrical Engineering: for practitioners in the oil, gas and petrochemical industry, A. L.
  Sheldrake; Wiley, 2003.
- WE08: Questions Electrotecniques Diverses (open textbook, Catalan), J. Mollera Barriga; self-published, sources in
  a public repository, version 15.0, 2005-2025.
- WE11: Electrical Circuit Theory and Technology, chapter 20 (inputs and method in an open companion collection), J.
  Bird, Newnes; companion files: FOSSEE, IIT Bombay, Scilab textbook companions, folder 1529, 2nd/3rd edition
  numbering.
- M: from memory, not opened, as named in the entry.

- mot_feeder_start_16_35_70: WE09, page 239, Table 9.33; 3 values, status V2
- mot_constant_impedance_start: WE08, chapter 10, motor with reduced voltage caused by its own starting current; 3
  values, status V1
- mot_nema_letter_start: WE08, chapter 10, NEMA MG 1 letter example; 1 value, status V1
- mot_full_load_12p75kw: WE11, M, Problem 20.11; 3 values, status M+

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("motor current and starting")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
