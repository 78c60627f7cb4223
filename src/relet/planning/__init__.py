"""One mixed-integer programme over all tenancies, proven by the real checks."""

from relet.planning.plan import plan
from relet.planning.problem import Arrangement, Choices, Problem
from relet.planning.solver import Progress
from relet.planning.stopping import stop_on_interrupt

__all__ = ["Arrangement", "Choices", "Problem", "Progress", "plan", "stop_on_interrupt"]
