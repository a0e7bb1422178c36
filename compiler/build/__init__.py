"""The order of the stages, and nothing else: from a plan's folder to its report, its PDF, its record.

    wishes (what is asked for and given back) → surroundings (what a run shares) → reading → working → finishing → writing → commands
"""

from compiler.build.commands import BUNDLED, check, make, publish, unchanged
from compiler.build.reading import Plan, editions_of, read_plan
from compiler.build.surroundings import Surroundings, surroundings
from compiler.build.telling import explain, plugins, why
from compiler.build.wishes import ROOT, Checked, Lines, Published, PublishedEdition, Wishes, Workshop
from compiler.build.working import model_of

__all__ = [
    "BUNDLED", "ROOT", "Checked", "Lines", "Plan", "Published", "PublishedEdition", "Surroundings", "Wishes", "Workshop", "check", "editions_of",
    "explain", "make", "model_of", "plugins", "publish", "read_plan", "surroundings", "unchanged", "why",
]
