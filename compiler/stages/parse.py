"""Texts become trees: a Source becomes a Draft, whatever is in it.

In: a Source. Out: a Draft with one tree for each YAML file; a file that can't be read as YAML has no tree, and a report
says why; places to fill that stand in comments are told. This stage knows no key of a plan.
"""

from __future__ import annotations

from compiler.base.report import Findings, Outcome, Report, Spot
from compiler.language.fills import fills_of_lines
from compiler.language.yaml_tree import read_tree
from compiler.values.draft import Draft, Tree
from compiler.values.source import Source


def parse(source: Source) -> Outcome[Draft]:
    """The trees of all YAML files of a plan; never without a value."""
    trees: list[Tree] = []
    report = Report()
    for file in source.files:
        if file.name.endswith(".yaml"):
            outcome = read_tree(file.name, file.text)
            trees.append(Tree(file.name, outcome.value))
            report += outcome.report
            found = Findings()
            for line, column, says in fills_of_lines(file.text):
                found.advice("to-fill", says, Spot(file.name, line=line, column=column))
            report += found.report()
    draft = Draft(folder=source.folder, trees=tuple(trees), files=source.files, photos=source.photos, mark=source.mark)
    return Outcome(draft, report)
