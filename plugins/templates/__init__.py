"""Full-size templates for parts with curves that sizes alone can't mark out."""

from compiler.api import Blocks, Figure, Model, Paragraph, Plugin, View, hook, section, template_sheets


@section("Full-size templates", after="joint details", name="templates")
def templates(model: Model) -> Blocks:
    """Each sheet on a page of its own."""
    parts = [model.part(kind.parts[0]) for kind in model.kinds]
    parts = [part for part in parts if template_sheets(part)]
    if not parts:
        return
    side = "2 in" if model.edition.units == "inch" else "50 mm"
    yield Paragraph(content=(f"Print at 100 % and measure the square of {side} on each sheet before cutting anything.",))
    for part in parts:
        count = template_sheets(part)
        for number in range(1, count + 1):
            yield Figure(
                f"Template of {part.kind} ({part.letter}), sheet {number} of {count}", View(f"template {part.name} {number}", width=170),
                name=f"{part.kind} template" if number == 1 else f"{part.kind} template {number}", placing="page",
                strip=(("Scale", "1 : 1"),),
            )


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, sections=(templates,))
