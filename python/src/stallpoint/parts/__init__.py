"""Parts. A physical argument is a number in the SI unit that its description names, or a text with a unit; temperatures
as numbers are °C and such arguments end in ``_c``. An argument left out has the library's default."""

from __future__ import annotations

from typing import Any

from . import armature, instruments, loads, motors, own, passive, protection, sources, supply, switching
from ._base import Description, LibraryPart, Part, Quantity, plain
from .armature import *
from .instruments import *
from .loads import *
from .motors import *
from .own import *
from .passive import *
from .protection import *
from .sources import *
from .supply import *
from .switching import *

# A part is named once, in the `__all__` of its own file.
__all__ = ["Description", "LibraryPart", "Part", "Quantity", "describe_drive"]
__all__ += armature.__all__
__all__ += instruments.__all__
__all__ += loads.__all__
__all__ += motors.__all__
__all__ += own.__all__
__all__ += passive.__all__
__all__ += protection.__all__
__all__ += sources.__all__
__all__ += supply.__all__
__all__ += switching.__all__


def describe_drive(parts: dict[str, Any]) -> dict[str, Any]:
    """A drive's description from its parts, as its file holds it: one load is a list of one, a joint may be its resistance."""
    table = {name: plain(part) for name, part in parts.items() if part is not None}
    load = table.get("load")
    if load is not None and not isinstance(load, list):
        table["load"] = [load]
    if "joints" in table:
        joints = table["joints"].items()
        table["joints"] = {name: joint if isinstance(joint, dict) else {"resistance": joint} for name, joint in joints}
    return {"schema": 1, "name": "Drive", **table}
