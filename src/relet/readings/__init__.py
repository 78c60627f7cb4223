"""Readings: what each rests on, which fell and why."""

from relet.readings.joints import all_joints, joints_of, pieces_of, touched_by
from relet.readings.reading import Reading, Rests, TestKind, circuit, circuit_of, rests_on
from relet.readings.standing import EFFECTS, Calibration, Disturbance, Effect, Verdict, fallen, in_time

__all__ = [
    "EFFECTS", "Calibration", "Disturbance", "Effect", "Reading", "Rests", "TestKind", "Verdict", "all_joints",
    "circuit", "circuit_of", "fallen", "in_time", "joints_of", "pieces_of", "rests_on", "touched_by",
]  # fmt: skip
