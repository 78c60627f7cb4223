"""One module per family of rules. Importing this package fills the register."""

from . import assembly as assembly
from . import conductor as conductor
from . import fault as fault
from . import load as load
from . import place as place
from . import protection as protection
