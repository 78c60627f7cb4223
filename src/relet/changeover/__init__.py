"""Changeover: the difference of two installations as an ordered, isolated, priced list of work."""

from relet.changeover.as_json import as_json, price_as_json
from relet.changeover.difference import Difference, DifferenceKind, difference
from relet.changeover.isolation import Feeds
from relet.changeover.job import disturbances, job, outages
from relet.changeover.legal import legal
from relet.changeover.step import WORK, Job, Loss, Moved, Outage, Step, apply

__all__ = [
    "WORK", "Difference", "DifferenceKind", "Feeds", "Job", "Loss", "Moved", "Outage", "Step", "apply", "as_json",
    "difference", "disturbances", "job", "legal", "outages", "price_as_json",
]  # fmt: skip
