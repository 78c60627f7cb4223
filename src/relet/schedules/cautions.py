"""The cautions shown with every result, in our own words."""

from __future__ import annotations

from typing import Final

CAUTIONS: Final[tuple[str, ...]] = (
    "This is an aid for people who are competent to design and install. It replaces neither the rules that hold where "
    "the unit stands, nor the judgement of a licensed or authorised person, nor the makers' instructions.",
    "Verify before anything is energised: inspect and test the finished work, and judge it by the readings.",
    "Work dead. Isolate, lock off, and prove dead at the place of work with a tester that was proved before and after.",
    "Live testing only by persons competent for it, only where dead is not reasonable, and with suitable precautions.",
    "Nothing here says that a conductor is dead. \"Isolated on the record\" means: prove it.",
    "Where a figure is assumed or comes from memory, it says so beside it. Check it in your own copy of the code "
    "before you rely on it.",
)  # fmt: skip

SHORT: Final = "A design aid for competent persons. Isolate, lock off, prove dead. Verify before energising."
