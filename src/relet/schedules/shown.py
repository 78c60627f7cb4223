"""A text with the address of its working, and the words for verdicts, grounds and statuses."""

from __future__ import annotations

from typing import Final

from relet.model.values import Value


class Shown(Value, frozen=True, kw_only=True):
    """Something printed.

    text   ready to print
    at     where its working is: "fact:<path>", "finding:<key>", "price:<n>", "row:<id>"; "" for plain words
    doubt  it is assumed, a range, a choice or not known
    """

    text: str
    at: str = ""
    doubt: bool = False


class VerdictWords(Value, frozen=True, kw_only=True):
    """A verdict for a reader: its word, and the name of its shape."""

    word: str
    shape: str
    says: str


VERDICTS: Final[dict[str, VerdictWords]] = {
    "fails": VerdictWords(word="fails", shape="fails", says="a limit is passed"),
    "depends": VerdictWords(word="depends", shape="depends", says="what is not known decides"),
    "refer": VerdictWords(word="refer", shape="refer", says="a specialist answers this"),
    "advice": VerdictWords(word="advice", shape="advice", says="better than required, or our own rule"),
    "meets": VerdictWords(word="meets", shape="meets", says="within its limit over all that is not known"),
    "not applicable": VerdictWords(word="not applicable", shape="none", says="the rule does not apply here"),
}

STATUS_WORDS: Final[dict[str, str]] = {
    "V2": "two or more published copies agree",
    "V1": "one published copy",
    "C": "computed from other rows",
    "P": "common practice, no source",
    "A": "stated assumption",
    "M+": "from memory, spot-checked",
    "M": "from memory",
    "user": "from the person's own copy",
}
FROM_MEMORY: Final = frozenset({"M", "M+"})

HOW_WORDS: Final[dict[str, str]] = {
    "read": "measured",
    "seen": "seen on site",
    "told": "told by somebody",
    "kind": "assumed from the table of machine kinds",
    "chosen": "chosen by us",
    "maker": "declared by the maker",
    "default": "left out: a printed default",
}
"""How a fact is known, in words."""

FORCE_WORDS: Final[dict[str, str]] = {
    "law": "law", "code": "wiring rules", "product": "equipment standard", "operator": "network operator",
    "guidance": "guidance", "policy": "own policy",
}  # fmt: skip


def status_words(status: str) -> str:
    """A table status in words; one that is not known stands as it is."""
    return STATUS_WORDS.get(status, status)
