"""Products and drawings, each kept under what it was really made from.

In: an account, values under watch. Out: the functions that the stages `derive` and `illustrate` are given. What a task or a drawing reads of
the model, the shop and the library decides whether it is made again; a drawing is made again only when a part that it shows changes.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from compiler.base.digests import digest
from compiler.base.report import Outcome, Spot
from compiler.build.surroundings import tools
from compiler.store.account import Account
from compiler.store.watching import Watched, watch
from compiler.values.contributions import Brought
from compiler.values.model import Model

if TYPE_CHECKING:
    from compiler.solid.building import Solids
    from compiler.solid.extents import Extent
    from compiler.values.document import View
    from compiler.values.figure import Drawing
    from compiler.values.shapes import Vector

_PART = ("name", "kind", "letter", "assembly", "component")
BY_ITEM = {"parts": _PART, "pieces": _PART, "joints": ("id", "kind", "family", "acting", "receiver")}
"""What a drawing may know of parts and joints that it does not show: that they are there, and what they are called."""
QUESTIONS = ("overall", "largest_face", "hung", "leaning", "measure", "driven_through")
"""What a drawing asks of the whole piece; its answer counts, and not every part that it comes from."""


def keeper(account: Account, watched: tuple[Watched, ...]) -> Any:
    """Products are kept under the digest of the plugin's code, of what the task was given, and of the fields that it read of large values."""
    twins = {id(each.value): each for each in watched}
    digests: dict[int, tuple[object, str]] = {}
    done: dict[tuple[str, str], Outcome[object]] = {}

    def of(value: object) -> str:
        if id(value) not in digests:
            digests[id(value)] = (value, digest(value))  # the value stays alive, so that its id stays its own
        return digests[id(value)][1]

    def keep(task: Brought[Any], inputs: tuple[object, ...], make: Callable[[], Outcome[object]]) -> Outcome[object]:
        name = f"{task.author.plugin} {task.name}"
        plain = tuple((_called(value), of(value)) for value in inputs if id(value) not in twins)
        once = (name, digest(plain))
        if once not in done:
            large = tuple(twins[id(value)] for value in inputs if id(value) in twins)
            made_from = (*tools(), (f"the code of {task.author.plugin}", task.author.digest), *plain)
            done[once] = account.keep_by_reads(name, made_from, large, make, lambda outcome: outcome.report.ok)
        return done[once]

    return keep


def _called(value: object) -> str:
    kind = type(value[0]) if isinstance(value, tuple) and value else type(value)
    return f"what {kind.__name__} says"


def drawer(
    model: Model, account: Account, written: dict[str, Spot | None], own: Callable[[View, Spot | None], Outcome[View]]
) -> Callable[[View, Spot | None], Outcome[Drawing]]:
    """Draws views; a drawing is kept under the digest of the view's words and of what it read: parts and joints one by one, other fields whole.

    `written` is where the author asks for a view; what is wrong with it is told there. `own` says what a plugin's own words mean.
    """
    watched = watch(model, BY_ITEM, QUESTIONS)
    stand: list[tuple[Extent, ...]] = []

    def extents() -> tuple[Extent, ...]:
        from compiler.build.watched_solids import built

        if not stand:
            standing = digest((model.parts, model.pieces))
            stand.append(account.keep("places of its parts", (*tools(), ("its parts", standing)), lambda: built(model).extents))
        return stand[0]

    def near(low: Vector, high: Vector) -> tuple[str, ...]:
        from compiler.solid import extents as places

        return places.near(extents(), low, high)

    def side(point: Vector, direction: Vector) -> float:
        from compiler.solid import extents as places

        return places.side(extents(), point, direction)

    watched.answers.update(near=near, side=side)
    twins = {home: getattr(watched.value, home) for home in ("parts", "pieces")}
    solids: list[Solids] = []

    def draw(view: View, at: Spot | None) -> Outcome[Drawing]:
        at = at or written.get(view.words)
        meant = own(view, at)
        if meant.value is None:
            return Outcome(None, meant.report)
        view = meant.value

        def make() -> Outcome[Drawing]:
            from compiler.build.watched_solids import solids_of
            from compiler.draw.picture import picture

            if not solids:
                solids.append(solids_of(watched, twins))
            return picture(view, watched.value, solids[0], at)

        words = digest((view, at))
        name = f"drawing {view.words}{' of ' + ', '.join(view.only[:3]) if view.only else ''} [{words[:6]}]"
        return account.keep_by_reads(name, (*tools(), ("the view", words)), (watched,), make, lambda outcome: True)

    return draw
