"""One module per family of rules; rules judged over ranges."""

from relet.checks.findings import Basis, Covered, Finding, Findings, MeasureNext, Need, Verdict
from relet.checks.forms import finding_json, findings_json
from relet.checks.judge import judge, merge_findings
from relet.checks.register import RegisterRow, register
from relet.checks.study import Study

__all__ = [
    "Basis", "Covered", "Finding", "Findings", "MeasureNext", "Need", "RegisterRow", "Study", "Verdict",
    "finding_json", "findings_json", "judge", "merge_findings", "register",
]  # fmt: skip
