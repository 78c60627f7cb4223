"""Published checks: the product's own functions against values that stand in print.

One list of cases serves the command and the tests:

    case.py        a case and the values that it must meet; worked examples read from data/*.toml
    topics/        one module a topic: how the inputs of an example go through the product's functions
    reproduced.py  rows of printed tables that a formula gives again
    calling.py     the one door to a function under test, where its result can be scaled on purpose
    check.py       verify(), mutants(), and their JSON form
    register.py    which publication stands behind a source code
"""

from relet.verify.calling import Call, scaled
from relet.verify.case import Case, cases
from relet.verify.check import FORMAT, SCALE, Check, Counts, Mutant, as_json, counts, mutants, verify
from relet.verify.register import Source, source

__all__ = [
    "FORMAT", "SCALE", "Call", "Case", "Check", "Counts", "Mutant", "Source", "as_json", "cases", "counts", "mutants",
    "scaled", "source", "verify",
]  # fmt: skip
