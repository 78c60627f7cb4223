"""Prospective short circuit: the printed answers of worked examples.

- WE08: Questions Electrotecniques Diverses (open textbook, Catalan), J. Mollera Barriga; self-published, sources in
  a public repository, version 15.0, 2005-2025.
- WE15: Short circuit calculations (project calculation sheet), anonymous, document-sharing site, document
  867618935, 2025; weak source, arithmetic complete.
- M: from memory, not opened, as named in the entry.
- WE29: pandapower (open-source general-purpose grid library), test suite and example networks, University of Kassel
  and Fraunhofer IEE, repository snapshot 2026; package 3.5.6 where a figure is computed.

- psc_transformer_850kva: WE08, chapter 2, example on transformer secondary fault; 2 values, status V1
- psc_kappa_peak: WE08, chapter 1, examples on R-L short circuit and asymmetrical peak; 3 values, status V1
- psc_chain_2000kva: WE15, table rows LV level, MSB, SMDB-1, DB-HVAC1; 9 values, status V1
- psc_chain_declared_current: WE15, table rows LV level, MSB, SMDB-1, DB-HVAC1; 3 values, status V1
- psc_eig_1000kva_chain: M, Electrical Installation Guide, chapter G, example table of short-circuit calculation
  (editions about 2005-2010), as remembered; 4 values, status M
- psc_two_parallel_400kva_kt: WE29, shortcircuit test of all transformer currents; 1 value, status V1

Status: V2 two published copies agree, V1 one, M+ and M from memory, C computed here. Tolerance: half a unit in the last
printed digit, or as the note of the check says.
"""

from published_list import of_topic, told


@of_topic("prospective short circuit")
def test_printed_value_is_met(check):
    assert check.ok, told(check)
