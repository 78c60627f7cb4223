"""Catalogue and price book: the shipped ones are sound and regular, and every mistake in one's own is told."""

from __future__ import annotations

from itertools import pairwise

import pytest

from relet.errors import InputError, InputErrors
from relet.files.catalogue import part_fields, read_catalogue
from relet.files.prices import read_prices

HEAD = 'format = "relet/catalogue/1"\nedition = "mine"\n[parts]\n'
PRICES = 'format = "relet/prices/1"\nedition = "mine"\ncurrency = "GBP"\n'


@pytest.fixture
def told(tmp_path):
    def read(text, reader):
        at = tmp_path / "mine.toml"
        at.write_text(text, encoding="utf-8")
        with pytest.raises((InputError, InputErrors)) as e:
            reader(at)
        return str(e.value)

    return read


def test_the_shipped_files_say_that_they_are_invented():
    assert "nvented" in read_catalogue().note and "nvented" in read_prices().note


def test_names_that_the_example_files_use():
    parts = read_catalogue().parts
    for name in (
        "switch-disconnector-100-4p", "outlet-60309-32a-3pne", "outlet-1363-twin", "mcb", "rcbo", "rccb", "switch",
        "enclosure-6-18", "switch-63-4p", "rcbo-c16-2p-30a", "outlet-60309-16a-2pe", "tapped-run-63",
        "tap-off-63-fused", "trunking-100x50", "mcb-b16-1p",
    ):  # fmt: skip
        assert name in parts, name


def test_parts_are_found_by_their_data():
    parts = read_catalogue().parts.values()
    rcbos = [
        p for p in parts
        if p.kind == "rcbo" and p.data.get("in_a", 0) >= 20 and p.data.get("rcd_type") in ("F", "B")
        and p.data["poles"] == 2
    ]  # fmt: skip
    assert min(rcbos, key=lambda p: p.data["in_a"]).data["in_a"] == 20
    takes = [
        p for p in parts if p.data.get("outlet") == "60309" and (p.data["in_a"], p.data["poles"]) == (63, "3P+N+E")
    ]
    assert {p.data["interlocked"] for p in takes} == {True, False}
    assert {p.data["ip"] for p in takes} == {44, 67}


def test_the_fields_that_each_kind_needs_are_declared():
    needed = {
        "enclosure": {"apertures", "ways", "in_a", "ip", "ik", "width_mm", "icc_ka", "upstream_max_a", "max_inside_c"},
        "outlet": {"outlet", "in_a", "poles", "apertures", "depth_mm", "ip", "interlocked"},
        "mcb": {"in_a", "poles", "curve", "icn_ka", "energy_class", "loss_w_per_pole", "ways", "locks_off"},
        "rcbo": {"in_a", "poles", "curve", "icn_ka", "idn_ma", "rcd_type", "rcd_delay", "loss_w_per_pole", "ways"},
        "rccb": {"in_a", "poles", "idn_ma", "rcd_type", "rcd_delay", "backup_max_a", "ways"},
        "switch": {"in_a", "poles", "category", "ways", "isolates"},
        "tapped-run": {"in_a", "r_mohm_per_m", "x_mohm_per_m", "cpc_r_mohm_per_m", "cpc_x_mohm_per_m", "icw_ka"},
    }
    for part in read_catalogue().parts.values():
        if not part.data.get("generic"):
            assert needed.get(part.kind, set()) <= set(part.data), part.id
    undeclared = [
        p.id for p in read_catalogue().parts.values() if p.data.get("interlocked") and "category" not in p.data
    ]
    assert undeclared, "one interlocked outlet leaves its category open, so that the question is met"


def test_physics_of_the_shipped_tapped_runs():
    runs = [p.data for p in read_catalogue().parts.values() if p.kind == "tapped-run"]
    by_rating = sorted(runs, key=lambda d: d["in_a"])
    assert all(x["r_mohm_per_m"] > y["r_mohm_per_m"] for x, y in pairwise(by_rating))


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("x = 3", "mine.toml:4: parts.x: 3 is not a part"),
        ('x = { name = "a" }', "mine.toml:4: parts.x.kind: kind is missing"),
        ('x = { kind = "mbc", name = "a" }', 'Nearest: "mcb"'),
        ('x = { kind = "mcb", name = "a", in_A = 16 }', 'parts.x.in_A: no quantity of that name'),
        ('x = { kind = "mcb", name = "a", in_a = -16 }', "parts.x.in_a: -16 is not allowed (rated current)"),
        ('x = { kind = "mcb", name = "a", in_a = inf }', "parts.x.in_a"),
        ('x = { kind = "mcb", name = "a", in_a = true }', "parts.x.in_a: true"),
        ('x = { kind = "mcb", name = "a", curve = "E" }', 'parts.x.curve: "E" is not allowed'),
        ('x = { kind = "mcb", name = "a", poles = 7 }', "parts.x.poles: 7 is no number of poles"),
        ('x = { kind = "mcb", name = 4 }', "parts.x.name: 4 is not a text"),
        ('x = { kind = "outlet", name = "a", interlocked = "yes" }', "parts.x.interlocked"),
        ('x = { kind = "mcb", name = "a", in_a = 1,6 }', "mine.toml:4"),
    ],
)  # fmt: skip
def test_mistakes_in_a_catalogue(told, line, said):
    assert said in told(HEAD + line + "\n", read_catalogue)


def test_all_mistakes_are_told_together(told):
    text = told(HEAD + 'x = { kind = "mcb", name = "a", in_a = -1 }\ny = 3\n', read_catalogue)
    assert "mine.toml:4" in text and "mine.toml:5" in text and "2 mistakes" in text


def test_wrong_format_folder_and_missing_file(told, tmp_path):
    assert 'Allowed: "relet/catalogue/1"' in told('format = "relet/unit/1"\nedition = "x"\n[parts]\n', read_catalogue)
    for path, said in ((tmp_path, "folder"), (tmp_path / "none.toml", "no such file")):
        with pytest.raises(InputError, match=said):
            read_catalogue(path)
        with pytest.raises(InputError, match=said):
            read_prices(path)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (PRICES + "[labour]\n", "labour.rate_per_hour"),
        (PRICES + "[labour]\nrate_per_hour = 40\n[parts]\nmcb = -4\n", "mine.toml:7: parts.mcb: -4 is not allowed"),
        (
            PRICES + '[labour]\nrate_per_hour = 40\n[per_metre]\n"swa-90/1.5" = "4"\n',
            "mine.toml:7: per_metre.swa-90/1.5",
        ),
        (PRICES + '[labour]\nrate_per_hour = 40\n[shares]\nbackbone = "owner"\n', "shares.backbone"),
        (PRICES + '[labour]\nrate_per_hour = 40\n[shares]\nbackbnoe = "tenant"\n', 'Nearest: "backbone"'),
        (PRICES + "[labour]\nrate_per_hour = 40\n[terms]\nvat_percent = 200\n", "terms.vat_percent"),
        (PRICES + 'valid_from = "soon"\n[labour]\nrate_per_hour = 40\n', "valid_from"),
        (PRICES + "prices = 3\n[labour]\nrate_per_hour = 40\n", "prices: unknown name"),
    ],
)
def test_mistakes_in_a_price_book(told, text, said):
    assert said in told(text, read_prices)


def test_a_price_book_of_ones_own(tmp_path):
    at = tmp_path / "mine.toml"
    at.write_text(PRICES + "[labour]\nrate_per_hour = 40\n[parts]\nmcb = 4\n", encoding="utf-8")
    book = read_prices(at)
    assert book.each("mcb") == 4 and book.payer("backbone") == "landlord" and book.payer("contents") == "tenant"


def test_every_declared_field_has_a_row_and_every_row_a_meaning():
    used = {name for p in read_catalogue().parts.values() for name in p.data}
    assert used <= set(part_fields())
    assert all(f.is_ for f in part_fields().values())
