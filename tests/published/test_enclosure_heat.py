"""Enclosure heat: the printed answers of worked examples.

- WE19: Berechnungsbeispiel (enclosure cooling, effective surface to DIN 57660 / IEC 890), cooling-unit maker note,
  document-sharing site, document 11533616, undated.

- enc_wall_cabinet_surface: WE19, whole note; 11 values, status V1

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("enclosure heat")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
