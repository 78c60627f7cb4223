"""What a unit, supply, machine, tenancy, part, installation and plan is. Frozen, typed; no computing, no I/O."""

from relet.model.case import Case
from relet.model.facts import Between, Claim, Exactly, Facts, Held, How, OneOf, Open, Scalar, in_force
from relet.model.installation import (
    AnyPiece,
    Assembly,
    Board,
    Containment,
    Device,
    FixedLoad,
    Installation,
    Joint,
    OffGroup,
    Outlet,
    Piece,
    Run,
    Stamp,
    Tap,
    merge,
)
from relet.model.parts import Catalogue, Part, PartKind
from relet.model.plan import Scheme, SolverReport
from relet.model.tenancy import Machine, Tenancy, Use, Wishes
from relet.model.unit import Opening, Point, Policy, Post, Space, Supply, Unit, Zone
from relet.model.values import Digest, Map, Path, Seat, Value, digest, natural, plain

__all__ = [
    "AnyPiece", "Assembly", "Between", "Board", "Case", "Catalogue", "Claim", "Containment", "Device", "Digest",
    "Exactly", "Facts", "FixedLoad", "Held", "How", "Installation", "Joint", "Machine", "Map", "OffGroup", "OneOf",
    "Open", "Opening", "Outlet", "Part", "PartKind", "Path", "Piece", "Point", "Policy", "Post", "Run", "Scalar",
    "Scheme", "Seat", "SolverReport", "Space", "Stamp", "Supply", "Tap", "Tenancy", "Unit", "Use", "Value",
    "Wishes", "Zone", "digest", "in_force", "merge", "natural", "plain",
]  # fmt: skip
