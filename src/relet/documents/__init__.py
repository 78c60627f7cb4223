"""Papers through Typst: the proposal."""

from relet.documents.paper import PaperFailed
from relet.documents.pictures import Pictures
from relet.documents.proposal import proposal

__all__ = ["PaperFailed", "Pictures", "proposal"]
