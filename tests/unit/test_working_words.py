"""A word keeps its origin when it is stored or copied."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Callable

import pytest

from relet.working import Word


def through_pickle(x: Word) -> Word:
    return pickle.loads(pickle.dumps(x))


@pytest.mark.parametrize("again", [copy.copy, copy.deepcopy, through_pickle])
def test_a_word_keeps_its_origin(again: Callable[[Word], Word]) -> None:
    word = Word("TN-S", "supply.earthing", "measured", "seen at the head", is_open=True)
    held = again(word)
    assert type(held) is Word and held == word
    assert held.figure.origin == word.figure.origin and held.figure.name == "earthing"
