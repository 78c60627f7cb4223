"""Probability (demand convolution): the printed answers of worked examples.

- WE27: Elementary Statistics, 12th edition, section 5-3 (published solutions to exercises 33 and 36, page 220),
  Pearson; solutions on a study-help site, 12th edition.
- WE28: Binomial worked solutions, public question-and-answer pages (partnerperformance copy 29073184; algebra
  solution 825419), undated; values are exact and easily recomputed.

- prob_binom_20_12: WE27, exercise 33; 1 value, status V1
- prob_binom_20_low: WE28, worked solution; 5 values, status C and V1
- prob_binom_30_20: WE27, exercise 36; 1 value, status V1

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("probability (demand convolution)")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
