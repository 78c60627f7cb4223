"""The proposal as a PDF."""

from __future__ import annotations

from pathlib import Path

from relet.documents.data import proposal_data
from relet.documents.paper import compiled
from relet.documents.pictures import Pictures
from relet.files.atomic import check_place, write_bytes
from relet.schedules import Dossier


def proposal(path: str | Path, dossier: Dossier, pictures: Pictures | None = None) -> Path:
    """Write the proposal of one case.

    path      the PDF; its folder has to be there. An older file is replaced, and only by a whole one
    pictures  plan, single-line diagram and faces in the paper palette
    returns   the path written
    raises    InputError: the folder is missing, is no folder or cannot be written, or a drawing cannot be read
    """
    check_place(path)
    write_bytes(path, compiled("proposal.typ", proposal_data(dossier, pictures or Pictures()), dossier.on))
    return Path(path)
