"""Weight of each part and of the whole piece.

Rule: finished size (length x width x thickness, tongues included, holes and grooves not taken off) times the density of
the sheet, else of its wood at 12 % moisture. A little too heavy rather than too light: people lift it.
"""

from compiler.api import Model, Plugin, Weights, hook, task


@task
def weights(model: Model) -> Weights:
    """Kilograms by part; stock without a density is named, not guessed."""
    known, unknown = [], []
    for part in model.parts:
        species = part.stock.species
        density = part.stock.density or (species.density if species is not None else None)
        if density is None:
            unknown.append(part.stock.name)
        else:
            known.append((part.name, (part.length * part.width * part.thickness).cubic_metres * density))
    return Weights(parts=tuple(known), unknown=tuple(dict.fromkeys(unknown)))


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, tasks=(weights,))
