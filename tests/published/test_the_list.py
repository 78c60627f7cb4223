"""The list of published checks as a whole: how many, from where, through which functions, and whether a wrong function
would be noticed."""

import ast
import importlib
import json
import re
from collections import Counter
from functools import lru_cache
from pathlib import Path

import jsonschema
import pytest
from published_list import every_check

import relet
from relet.electrical.demand import used
from relet.verify import FORMAT, Call, Case, as_json, cases, counts, mutants, scaled, source, verify
from relet.verify.case import half_a_unit
from relet.verify.register import DATA
from relet.working import Formula, fact, lookup

PACKAGE = Path(relet.__file__).parent


def published():
    return [c for c in every_check() if c.kind == "example" and c.status in ("V1", "V2")]


def test_enough_values_sources_and_functions():
    held = counts(every_check())
    assert held.published >= 60
    assert held.sources >= 12
    assert held.functions >= 20
    assert held.failed == 0


def test_memory_and_own_results_are_not_called_published():
    held = counts(every_check())
    by_status = Counter(c.status for c in every_check() if c.kind == "example")
    assert held.published == by_status["V1"] + by_status["V2"]
    assert held.computed == by_status["C"] > 0
    assert held.from_memory == by_status["M"] + by_status["M+"] > 0
    assert held.reproduced == sum(c.kind == "table" for c in every_check())


def test_every_value_has_its_own_id():
    assert max(Counter(c.id for c in every_check()).values()) == 1


def test_every_source_code_is_in_a_register():
    for c in every_check():
        for code in c.source.split(";"):
            assert source(code).title


def test_registers_hold_no_addresses():
    for file in DATA.glob("*.toml"):
        assert not re.search(r"https?:|www\.|\.(com|org|co\.uk|net)\b", file.read_text(encoding="utf-8")), file.name


def test_each_module_names_its_sources_in_full():
    for file in Path(__file__).parent.glob("test_*.py"):
        doc = ast.get_docstring(ast.parse(file.read_text(encoding="utf-8"))) or ""
        flat = " ".join(doc.split())
        for topic in re.findall(r'@of_topic\("(.+)"\)', file.read_text(encoding="utf-8")):
            for c in every_check():
                # the tables' register is the one place where their many publishers are named: a code will do
                if c.topic == topic:
                    for code in c.source.split(";"):
                        wanted = code if c.kind == "table" else f"{code}: {source(code)}"
                        assert wanted in flat, f"{file.name} does not name {code}"


def test_no_topic_is_left_without_a_module():
    text = "".join(f.read_text(encoding="utf-8") for f in Path(__file__).parent.glob("test_*.py"))
    assert {case.topic for case in cases()} == set(re.findall(r'@of_topic\("(.+)"\)', text))


def test_a_wider_tolerance_gives_its_reason():
    for c in every_check():
        if c.tolerance > half_a_unit(c.printed):
            assert len(c.note) > 10, c.id


# ---------- no bare table read ----------


def test_functions_under_test_compute():
    for c in every_check():
        assert not c.function.startswith("relet.tables"), c.id
        module, _, name = c.function.rpartition(".")
        assert module.startswith("relet.electrical"), f"{c.id}: {name}"


def test_a_value_that_was_only_read_is_refused(monkeypatch):
    read = lookup("t", "row", 1.0, "A", "S", "V1")
    value, _ = next(cases()[0].run(Call()))
    bare = Case("x", "t", "table", lambda _: iter([(value, read)]))
    monkeypatch.setattr("relet.verify.check.cases", lambda: (bare,))
    with pytest.raises(TypeError, match="read, not computed"):
        verify()


# ---------- the functions that judge ----------


@lru_cache(maxsize=1)
def called_by_rules() -> frozenset[str]:
    """Names in relet.electrical that relet.checks imports, and what those call in turn, by the source text."""
    calls: dict[tuple[str, str], set[tuple[str, str]]] = {}
    for file in (PACKAGE / "electrical").glob("*.py"):
        module, tree = f"relet.electrical.{file.stem}", ast.parse(file.read_text(encoding="utf-8"))
        imported = dict(_imports(tree))
        for node in tree.body:
            if isinstance(node, ast.FunctionDef | ast.ClassDef):
                names = {n.id for n in ast.walk(node) if isinstance(n, ast.Name)}
                calls[module, node.name] = {imported.get(n, (module, n)) for n in names}
    waiting = []
    for file in (PACKAGE / "checks").rglob("*.py"):
        tree = ast.parse(file.read_text(encoding="utf-8"))
        imported = dict(_imports(tree))
        waiting += imported.values()
        for n in ast.walk(tree):
            if isinstance(n, ast.Attribute) and isinstance(n.value, ast.Name) and n.value.id in imported:
                module, name = imported[n.value.id]
                waiting.append((f"{module}.{name}", n.attr))
    seen = set()
    while waiting:
        one = waiting.pop()
        if one in calls and one not in seen:
            seen.add(one)
            waiting += calls[one]
    return frozenset(f"{module}.{name}" for module, name in seen)


def _imports(tree):
    for n in ast.walk(tree):
        if isinstance(n, ast.ImportFrom) and (n.module or "").startswith("relet.electrical"):
            for a in n.names:
                yield a.asname or a.name, (n.module, a.name)


def judges(function):
    """True if a rule calls the function, or the class whose method it is."""
    return ".".join(function.split(".")[:4]) in called_by_rules()


def test_the_functions_that_judge_a_design_are_the_ones_tried():
    tried = [c for c in published() if judges(c.function)]
    assert len(tried) >= 100
    assert len({code for c in tried for code in c.source.split(";")}) >= 12
    assert len({c.function for c in tried}) >= 20


def test_the_front_page_tells_how_many_go_through_functions_that_judge():
    root, tried = PACKAGE.parents[1], [c for c in published() if judges(c.function)]
    page = " ".join((root / "docs" / "method" / "verify.md").read_text(encoding="utf-8").split())
    front = (root / "README.md").read_text(encoding="utf-8")
    told = re.search(r"recomputes (\d+) values of worked examples in print, at least (\d+) of them through", front)
    beside = re.search(r"at least (\d+) of the (\d+) published values", page)
    assert told and beside and told.groups() == beside.groups()[::-1]
    assert int(told[1]) == len(published())
    assert 0.8 * len(tried) <= int(told[2]) <= len(tried)


def test_every_function_named_is_there():
    for name in {f for c in every_check() for f in c.through}:
        parts = name.split(".")
        thing = importlib.import_module(".".join(parts[:3]))
        for part in parts[3:]:
            thing = getattr(thing, part)


# ---------- a wrong function is noticed ----------


@pytest.mark.parametrize("factor", [1.02, 0.98])
def test_two_per_cent_wrong_is_noticed_for_every_function(factor):
    tried = mutants(factor)
    assert len(tried) >= 20
    assert [m.function for m in tried if not m.ok] == []


def test_mutants_cover_every_function_that_a_check_goes_through():
    assert {m.function for m in mutants()} == {f for c in every_check() for f in c.through}


def test_with_its_own_function_wrong_nearly_every_check_fails():
    tried = verify(1.02)
    assert [c.id for c in tried] == [c.id for c in every_check()]
    blind = [c for c in tried if c.ok]
    # nought stays nought; the others are printed too coarsely to show it alone
    assert all(c.expected == 0 or c.tolerance >= 0.01 * abs(c.expected) for c in blind), [c.id for c in blind]
    assert len(blind) <= 0.05 * len(tried)


def test_unscaled_functions_are_left_as_they_are():
    assert verify(1.0) == every_check()


def test_scaling_reaches_records_and_leaves_units_alone():
    two = fact("x", 2.0, "A", "chosen")
    assert float(scaled(two, 1.5)) == 3.0
    assert scaled(two, 1.5).unit == "A"
    assert [float(v) for v in scaled((two, two), 2.0)] == [4.0, 4.0]
    assert scaled((10.0, two), 2.0)[0] == 20.0
    with pytest.raises(TypeError, match="no number"):
        scaled("line", 1.02)
    with pytest.raises(TypeError, match="no number"):
        scaled(True, 1.02)


def test_the_door_scales_only_the_function_that_is_named():
    kva, ku = fact("s", 10.0, "kVA", "chosen"), fact("ku", 0.5, "", "chosen")
    right, wrong = Call(), Call("relet.electrical.demand.used", 1.02)
    assert float(right(used, kva, ku)) == 5.0
    assert float(wrong(used, kva, ku)) == pytest.approx(5.1)
    assert right.trail == ["relet.electrical.demand.used"]
    assert isinstance(right(used, kva, ku).origin, Formula)


# ---------- printed digits, and the form ----------


@pytest.mark.parametrize(("printed", "half"), [("7.67", 0.005), ("4.60", 0.005), ("200", 0.5), ("0.0010", 0.00005)])
def test_half_a_unit_of_the_last_printed_digit(printed, half):
    assert half_a_unit(printed) == pytest.approx(half)


def test_printed_mistakes_are_told_and_tested_against_the_corrected_value():
    told = {c.id.split(".")[0]: c for c in every_check() if "corrected" in c.id}
    assert set(told) == {"csz_motor_25kw_singles_trunking", "har_25a_32pc_44pc"}
    assert all((c.ok and c.status == "C" and "wrong" in c.note) or "divides" in c.note for c in told.values())


SHAPE = {
    "type": "object",
    "required": ["format", "checks", "counts", "sources"],
    "properties": {
        "format": {"const": FORMAT},
        "checks": {
            "type": "array",
            "items": {
                "type": "object",
                "required": [
                    "id", "topic", "source", "status", "function", "expected", "got", "unit", "tolerance", "ok", "note",
                ],
            },
        },
        "counts": {
            "type": "object",
            "required": ["published", "computed", "from_memory", "sources", "functions", "failed"],
            "additionalProperties": {"type": "integer"},
        },
    },
}  # fmt: skip


def test_json_form():
    out = json.loads(json.dumps(as_json(every_check(), mutants()), allow_nan=False))
    jsonschema.validate(out, SHAPE)
    assert out["counts"]["not_caught"] == 0
    assert len(out["checks"]) == len(every_check())


def test_json_form_holds_when_a_result_is_undefined():
    json.dumps(as_json(verify(1.02)), allow_nan=False)


def test_the_page_about_the_list_holds_its_counts():
    page = (PACKAGE.parents[1] / "docs" / "method" / "verify.md").read_text(encoding="utf-8")
    told = dict(re.findall(r"^\| `(\w+)` \| (\d+) \|", page, re.MULTILINE))
    assert {k: int(v) for k, v in told.items()} == counts(every_check())._asdict() | {"mutants": len(mutants())}
