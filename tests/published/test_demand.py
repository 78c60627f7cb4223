"""Maximum demand and diversity: the printed answers of worked examples.

- WE07: Electrical Installation Guide, chapter A, section 4, Schneider Electric, wiki revision 2016.
- M: from memory, not opened, as named in the entry.
- WE17: Q of the day: what is the maximum demand and diversity for this installation, Voltimum UK technical
  expertise page; the answering body is SELECT (trade association), On-Site Guide Table 1B, 17th edition.
- WE18: Applying demand factor and diversity factor, trade-press column, document-sharing site, document 125222275,
  undated.
- WE10: Principles of Power System (worked examples with printed results in an open companion collection), V. K.
  Mehta and R. Mehta, S. Chand; companion files: FOSSEE, IIT Bombay, Scilab textbook companions, folder 98, 4th
  edition pagination; companion about 2011.

- dem_eig_three_workshops: WE07, M, Fig. A14; 5 values, status M+
- dem_osg_dwelling: WE17, question as put; 4 values, status V1
- dem_four_feeders: WE18, worked given; 2 values, status V1
- dem_diversity_factor_station: WE10, Example 3.5, page 51; 3 values, status V1

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("maximum demand and diversity")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
