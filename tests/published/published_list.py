"""The checks of a topic, run once, for the modules beside this one."""

from functools import lru_cache

import pytest

from relet.verify import Check, verify


@lru_cache(maxsize=1)
def every_check() -> tuple[Check, ...]:
    return verify()


def of_topic(topic: str) -> pytest.MarkDecorator:
    """Parametrise a test over the checks of a topic; a topic without checks is a mistake."""
    found = [c for c in every_check() if c.topic == topic]
    assert found, f"no checks on {topic!r}"
    return pytest.mark.parametrize("check", found, ids=[c.id for c in found])


def told(check: Check) -> str:
    """What a failing test says."""
    return (
        f"{check.id}: {check.function} gives {check.got:.8g} {check.unit}, printed {check.printed} "
        f"within {check.tolerance:.3g} ({check.source}, {check.locator}). {check.note}"
    )
