"""Is every part one closed piece of wood? If not: which working or joint did it.

In: the model and its solids. Out: faults told. It knows nothing of how parts stand to each other.
"""

from __future__ import annotations

from compiler.base.report import Spot
from compiler.solid import Problem, Solids
from compiler.stages.inspect.telling import Telling
from compiler.values.model import JointUse, Model, Part, Working

SAYS = {
    "shapeless": "The {what} of `{part}` is no shape: {why}.",
    "misses": "The {what} lies outside `{part}`: it cuts nothing.",
    "empty": "Nothing is left of `{part}` after the {what}.",
    "split": "The {what} leaves `{part}` in more than one piece.",
    "open": "The {what} leaves no sound solid of `{part}`.",
}
HINTS = {
    "shapeless": "Give its points in order round the outline, so that no two sides cross.",
    "misses": "Check its place; places count from the part's own faces.",
    "empty": "Make it smaller than the part.",
    "split": "Make it shallower, shorter, or move it towards an edge.",
    "open": "Move it by a hair, so that it doesn't just graze another face.",
}


def judge_solids(model: Model, solids: Solids, telling: Telling) -> frozenset[str]:
    """Tell what is wrong with single solids, at the working or joint that did it; the parts that are not to be judged further."""
    joints = {joint.id: joint for joint in model.joints}
    broken: set[str] = set()
    for problem in solids.problems:
        if problem.part in broken and problem.kind != "shapeless":
            continue
        broken.add(problem.part)
        part = solids[problem.part].part
        author = _author(problem, part, joints)
        at = author.at if author is not None and author.at is not None else part.at
        what = problem.feature.called if problem.feature is not None else "shape"
        if isinstance(author, JointUse) and author.kind != what:
            what = f"{what} of the {author.kind}"
        says = SAYS[problem.kind].format(what=what, part=part.name, why=problem.says)
        telling.error(f"solid-{problem.kind}", says, at, HINTS[problem.kind], also=_others(part.at))
    return frozenset(broken)


def _others(at: Spot | None) -> tuple[Spot | None, ...]:
    """The part's name, not all of its keys."""
    return (Spot(at.file, at.path, True) if at is not None and at.path else at,)


def _author(problem: Problem, part: Part, joints: dict[str, JointUse]) -> JointUse | Working | None:
    """The joint or the working that the guilty feature comes from."""
    if problem.feature is None:
        return None
    by = problem.feature.by
    if by in joints:
        return joints[by]
    return next((working for working in part.workings if working.id == by), None)
