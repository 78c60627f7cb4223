"""A code of practice as a folder of data.

    packs/<id>/pack.toml        name, dates, and the pack it is like
    packs/<id>/rules.csv        rule, force, clause, source, status, edition
    packs/<id>/limits.csv       key, case, value, unit, clause, source, status, edition
    packs/<id>/defaults.csv     what is taken when something is left out, with the range it must hold over
    packs/<id>/cable_kinds.csv  our names for kinds of cable: table, method, constants
    packs/<id>/editions.csv     how far each row of the pack it is like is confirmed under this edition

A pack that is `like` another takes over every row that it does not hold itself; such a row carries the mark of
editions.csv wherever it decides a verdict. The standards themselves were not opened: see the status of each row.
"""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, Final, Literal

from relet.errors import InputError, OutsideTable
from relet.working import Figure, lookup

PACKS: Final = Path(__file__).parent / "packs"
DEFAULT: Final = "bs7671-2018-a4"

Force = Literal["law", "code", "product", "operator", "guidance", "policy"]
FORCES_THAT_FAIL: Final = frozenset({"law", "code", "product", "operator"})

UNCONFIRMED: Final = "edition unconfirmed"
CONFIRMED: Final = "confirmed"
MARKS: Final = (CONFIRMED, "not an edition matter", "unchanged as far as public sources tell", UNCONFIRMED)
"""How far a row taken over from the edition before stands under this one, weakest last. Only `confirmed` lifts it."""


@dataclass(frozen=True, slots=True)
class RuleRow:
    """How one rule stands under a code. `mark` says how far it is confirmed under this edition."""

    rule: str
    force: Force
    clause: str
    source: str
    status: str
    edition: str
    mark: str


@dataclass(frozen=True, slots=True)
class Default:
    """What is taken for a fact that was left out: a word or a number, and the range over which a verdict must hold."""

    of: str
    field: str
    value: str
    low: float | None
    high: float | None
    unit: str
    why: str
    source: str
    status: str


@dataclass(frozen=True, slots=True)
class CableKind:
    """One kind of cable under a code."""

    cable: str
    name: str
    form: str
    rating_tables: tuple[str, ...]
    method: str
    insulation: str
    insulation_c: float
    conductor_class: int
    cpc: str
    use_cpc: str
    r_where: str
    group: str
    loadings: tuple[str, ...]
    mark: str


class Code:
    """One dated pack. Figures carry clause, source, status and the mark of the edition."""

    def __init__(self, folder: Path, head: Mapping[str, Any], like: Code | None) -> None:
        self.folder, self.head, self.like = folder, head, like
        self.id, self.name, self.short = str(head["id"]), str(head["name"]), str(head["short"])
        self._marks = {r["of"]: r["mark"] for _, r in rows_of(folder / "editions.csv")}
        self._limits = {(r["key"], r["case"]): r for _, r in rows_of(folder / "limits.csv")}
        self._rules = {r["rule"]: r for _, r in rows_of(folder / "rules.csv")}
        self._defaults = {(r["of"], r["field"]): r for _, r in rows_of(folder / "defaults.csv")}
        self._cables = {r["cable"]: r for _, r in rows_of(folder / "cable_kinds.csv")}

        self.ambient_base = str(head.get("ambient_base", "IEC"))
        self.gg_accepted = bool(head.get("gg_accepted", False))

    def __repr__(self) -> str:
        return f"Code({self.id})"

    def mark(self, of: str) -> str:
        """How far a row taken over from the pack before is confirmed here; "" once it is, and for a pack of its own."""
        held = self._marks.get(of) or self._marks.get("*", "")
        return "" if held == CONFIRMED else held

    def marked(self) -> tuple[str, ...]:
        """What editions.csv names."""
        return tuple(self._marks)

    def _find(self, group: str, key: Any) -> tuple[Mapping[str, str], bool] | None:
        held: Mapping[Any, Mapping[str, str]] = getattr(self, group)
        if key in held:
            return held[key], False
        if self.like is not None and (found := self.like._find(group, key)) is not None:
            return found[0], True
        return None

    def _keys(self, group: str) -> list[Any]:
        own = list(getattr(self, group))
        return list(dict.fromkeys([*own, *(self.like._keys(group) if self.like else [])]))

    def limit(self, key: str, case: str = "", given: tuple[Figure, ...] = ()) -> Figure:
        """A limit as a figure. Raises OutsideTable naming pack, key and case."""
        found = self._find("_limits", (key, case))
        if found is None:
            held = sorted({k if not c else f"{k} ({c})" for k, c in self._keys("_limits")})
            raise OutsideTable(f"limits of {self.id}", f"{key} {case}".strip(), ", ".join(held))
        row, inherited = found
        edition = row["edition"] + (f"; {self.mark(key)}" if inherited and self.mark(key) else "")
        label = f"{key}{f' ({case})' if case else ''}, {row['clause']}"
        source = f"{self.short} {row['clause']} [{row['source']}]"
        return lookup(
            f"{self.id} limits",
            label,
            float(row["value"]),
            row["unit"],
            source,
            row["status"],
            edition,
            given,
            name=key,
        )

    def has_limit(self, key: str, case: str = "") -> bool:
        """True if the pack holds this limit."""
        return self._find("_limits", (key, case)) is not None

    def limits(self) -> tuple[tuple[str, str], ...]:
        """Key and case of every limit that the pack holds."""
        return tuple(self._keys("_limits"))

    def rule(self, rule: str) -> RuleRow:
        """The row of a rule. Raises OutsideTable if the pack has none."""
        found = self._find("_rules", rule)
        if found is None:
            raise OutsideTable(f"rules of {self.id}", rule, ", ".join(sorted(self._keys("_rules"))))
        r, inherited = found
        mark = self.mark(rule) if inherited else ""
        return RuleRow(rule, r["force"], r["clause"], r["source"], r["status"], r["edition"], mark)  # type: ignore[arg-type]

    def rules(self) -> tuple[str, ...]:
        """Every rule that the pack knows, in the order of its file."""
        return tuple(self._keys("_rules"))

    def default(self, of: str, field: str) -> Default | None:
        """What is taken for a left-out fact, or None if nothing is."""
        found = self._find("_defaults", (of, field))
        if found is None or not found[0]["value"]:
            return None
        r = found[0]
        low, high = (float(r[c]) if r[c] else None for c in ("low", "high"))
        return Default(of, field, r["value"], low, high, r["unit"], r["why"], r["source"], r["status"])

    def defaults(self) -> tuple[Default, ...]:
        """Every default that is held, for printing."""
        found = (self.default(of, field) for of, field in self._keys("_defaults"))
        return tuple(d for d in found if d is not None)

    def cable(self, cable: str) -> CableKind:
        """A kind of cable. Raises OutsideTable naming the kinds held."""
        found = self._find("_cables", cable)
        if found is None:
            raise OutsideTable(f"cable kinds of {self.id}", cable, ", ".join(self._keys("_cables")))
        r, inherited = found
        return CableKind(
            r["cable"], r["name"], r["form"], tuple(r["rating_table"].split()), r["method"], r["insulation"],
            float(r["insulation_c"]), int(r["conductor_class"]), r["cpc"], r["use_cpc"], r["r_where"], r["group"],
            tuple(r["loadings"].split("|")), self.mark("cable_kinds") if inherited else "",
        )  # fmt: skip

    def cables(self) -> tuple[str, ...]:
        """Names of the kinds of cable."""
        return tuple(self._keys("_cables"))

    def edition_line(self) -> str:
        """Name and dates, for every paper and page."""
        withdrawn = self.head.get("withdrawn")
        dates = f"published {self.head['published']}" + (f", withdrawn {withdrawn}" if withdrawn else "")
        return f"{self.name} ({dates})"


def weakest_mark(rule: str, editions: Iterable[str]) -> str:
    """The weakest among the mark of a rule and those that the editions of look-ups end in; "" if there is none."""
    held = [rule, *(e.rsplit("; ", 1)[-1] for e in editions)]
    known = [m for m in held if m in MARKS]
    return max(known, key=MARKS.index) if known else ""


def rows_of(path: Path) -> list[tuple[int, dict[str, str]]]:
    """Line number and cells by column of a CSV file with # comments; nothing if there is no such file."""
    if not path.exists():
        return []
    with path.open(encoding="utf-8", newline="") as f:
        numbered = [(n, line) for n, line in enumerate(f, 1) if line.strip() and not line.startswith("#")]
    reader = csv.DictReader(line for _, line in numbered)
    return [(n, dict(row)) for (n, _), row in zip(numbered[1:], reader)]


def code_ids(root: Path = PACKS) -> tuple[str, ...]:
    """Ids of the packs that are shipped, the default one first."""
    ids = sorted(p.name for p in root.iterdir() if (p / "pack.toml").exists())
    return tuple(sorted(ids, key=lambda i: (i != DEFAULT, i)))


@lru_cache(maxsize=16)
def load_code(id: str = DEFAULT, root: Path = PACKS) -> Code:
    """A pack by its id. Raises InputError naming the packs there are."""
    folder = root / id
    if not (folder / "pack.toml").exists():
        raise InputError(f'"{id}" is not a code pack. Allowed: {", ".join(code_ids(root))}.', place="policy.code")
    head = tomllib.loads((folder / "pack.toml").read_text(encoding="utf-8"))
    like = load_code(head["like"], root) if "like" in head else None
    return Code(folder, head, like)
