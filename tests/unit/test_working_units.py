"""The unit that a name ends in."""

from __future__ import annotations

from pathlib import Path

import pytest

import relet.files
from relet.codes import rows_of
from relet.working import unit_of, without_unit

FIELDS = [row for _, row in rows_of(Path(relet.files.__file__).parent / "fields.csv")]


@pytest.mark.parametrize(
    ("name", "unit"),
    [
        ("Ik_a_ka", "kA"), ("Q_kvar", "kvar"), ("Z_mohm", "mohm"), ("kappa", ""), ("max_mv_per_a_m", "mV/A/m"),
        ("csa_mm2", "mm2"), ("r_mohm_per_m", "mohm/m"), ("curve", ""), ("starts_per_hour", ""),
    ],
)  # fmt: skip
def test_unit_by_the_end_of_a_name(name, unit):
    assert unit_of(name) == unit


def test_every_fact_of_the_file_is_named_after_its_unit():
    assert FIELDS
    named = [
        r for r in FIELDS if "_" in r["field"] and r["of"] != "lead_reach" and not r["field"].endswith("_per_pole")
    ]
    assert not {r["field"]: r["unit"] for r in named if r["unit"] not in ("", "share", unit_of(r["field"]))}


def test_a_name_in_words_leaves_its_unit_to_the_number():
    assert without_unit("csa_mm2") == "csa" and without_unit("ambient_c") == "ambient"
    assert without_unit("starts_per_hour") == "starts per hour" and without_unit("rcd_type") == "rcd type"
