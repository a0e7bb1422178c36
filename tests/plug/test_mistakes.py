"""What authors get wrong, and the one message that each mistake deserves: with the plugin's name and the line."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plug.plugins_at_hand import loaded, said

HEAD = "from dataclasses import dataclass\nfrom compiler.api import *\n"
LABELS = '''
@dataclass(frozen=True)
class Labels:
    """Labels."""
    number: int

@task
def labels(model: Model) -> Labels:
    """One label a part."""
    return Labels(1)
'''
HOOK = '''
@hook
def plugin() -> Plugin:
    return Plugin(contract=1, {})
'''
SPLINE = '''
class Spline(Joint):
    """A loose spline."""
    kind, how = "spline", "into"
    depth: Length = ask.size({default}, {says}{more})

    def make(self, c: Contact) -> Work:
        return Work()
'''


def spline(default: str = '"1/4"', says: str = '"depth of the groove"', more: str = "") -> str:
    return SPLINE.format(default=default, says=says, more=more) + HOOK.format("joint_kinds=(Spline,)")


MISTAKES = {
    "a word of the surface that was not imported": (
        "del inch\n@hook\ndef plugin() -> Plugin:\n    inch(1)\n    return Plugin(contract=1)\n",
        "labels:6 `plugin()` stopped: NameError: name 'inch' is not defined. · Import it: from compiler.api import inch.",
    ),
    "a word that nothing has": (
        "from compiler.api import Plugin, hook\n@hook\ndef plugin() -> Plugin:\n    inhc(1)\n    return Plugin(contract=1)\n",
        "labels:6 `plugin()` stopped: NameError: name 'inhc' is not defined. · Did you mean inch?",
    ),
    "a misspelt import": (
        "from compiler.api import Plugn, hook\n",
        "labels:3 `labels` stopped: ImportError: cannot import name 'Plugn' from 'compiler.api'. · Did you mean Plugin?",
    ),
    "a misspelt field": (
        "from compiler.api import Plugin, hook\nclass Box:\n    width = 1\n@hook\ndef plugin() -> Plugin:\n    Box().widht\n    return Plugin(contract=1)\n",
        "labels:8 `plugin()` stopped: AttributeError: 'Box' object has no attribute 'widht'. · Did you mean width?",
    ),
    "a number among lengths": (
        "\n\n@hook\ndef plugin() -> Plugin:\n    inch(1) - 0.25\n    return Plugin(contract=1)\n",
        "labels:7 `plugin()`: 0.25 is no length; write inch(…) or mm(…).",
    ),
    "a sum that begins with nothing": (
        "\n\n@hook\ndef plugin() -> Plugin:\n    sum([inch(1)])\n    return Plugin(contract=1)\n",
        "labels:7 `plugin()`: 0 is no length; write inch(…) or mm(…); a sum of lengths begins with one: sum(…, ZERO).",
    ),
    "a hook without its mark": (
        "from compiler.api import Plugin, hook\ndef plugin() -> Plugin:\n    return Plugin(contract=1)\n",
        "labels:4 `labels` has no @hook; put @hook above def plugin() -> Plugin.",
    ),
    "hook gives a list": (
        "@hook\ndef plugin() -> Plugin:\n    return []\n",
        "labels:3 `plugin()` gave a list; it gives a Plugin(contract=1, …).",
    ),
    "hook without return": (
        "@hook\ndef plugin() -> Plugin:\n    Plugin(contract=1)\n",
        "labels:3 `plugin()` gave a NoneType; it gives a Plugin(contract=1, …). · Is there a return?",
    ),
    "no hook": (
        "def plugin() -> Plugin:\n    return Plugin(contract=1)\n",
        "labels:3 `labels` has no @hook; put @hook above def plugin() -> Plugin.",
    ),
    "old contract": (
        "@hook\ndef plugin() -> Plugin:\n    return Plugin(contract=0)\n",
        "labels `labels` is made for contract 0; this compiler speaks 1. · Take the plugin's newer version.",
    ),
    "contract of the future": (
        "@hook\ndef plugin() -> Plugin:\n    return Plugin(contract=7)\n",
        "labels `labels` is made for contract 7; this compiler speaks 1. · Update the compiler.",
    ),
    "no @task": (
        "def labels(model: Model) -> int:\n    return 1\n" + HOOK.format("tasks=(labels,)"),
        "labels:3 `tasks` holds `labels`, which is no task; put @task above it.",
    ),
    "a list of tasks": (
        LABELS + HOOK.format("tasks=[labels]"),
        "labels `tasks` is a list; write a tuple: tasks=(…,).",
    ),
    "forgotten comma": (
        LABELS + HOOK.format("tasks=(labels)"),
        "labels `tasks` is a single task; a tuple of one has a comma: tasks=(…,).",
    ),
    "a task among checks": (
        LABELS + HOOK.format("checks=(labels,)"),
        "labels:9 `checks` holds `labels`, which is no check; put @check above it.",
    ),
    "unknown need": (
        LABELS.replace("Labels:\n    \"\"\"One", "Labels:\n    \"\"\"One").replace("model: Model", "list_: CutLists")
        .replace("@task", "@dataclass(frozen=True)\nclass CutLists:\n    '''X.'''\n    number: int\n\n@task") + HOOK.format("tasks=(labels,)"),
        "labels:14 `labels` needs CutLists, which no plugin makes.",
    ),
    "one where there are many": (
        LABELS.replace("model: Model", "rules: SafetyRule") + HOOK.format("tasks=(labels,)"),
        "labels:9 `labels` needs SafetyRule, of which there are many; write rules: tuple[SafetyRule, ...].",
    ),
    "many where there is one": (
        LABELS.replace("model: Model", "models: tuple[Model, ...]") + HOOK.format("tasks=(labels,)"),
        "labels:9 `labels` needs a tuple of Model, of which there is one; write models: Model.",
    ),
    "a need without type": (
        LABELS.replace("model: Model", "model") + HOOK.format("tasks=(labels,)"),
        "labels:9 Task `labels`: the argument `model` has no type; a need is told by its type, as in model: Model.",
    ),
    "a need that is a text": (
        LABELS.replace("model: Model", "model: str") + HOOK.format("tasks=(labels,)"),
        "labels:9 Task `labels`: `model: str` is no type that a plugin can need.",
    ),
    "a misspelt annotation": (
        LABELS.replace("model: Model", "model: 'Modle'") + HOOK.format("tasks=(labels,)"),
        "labels:9 Task `labels`: its annotations can't be read: name 'Modle' is not defined. · Did you mean Model?",
    ),
    "no product": (
        LABELS.replace(" -> Labels", "") + HOOK.format("tasks=(labels,)"),
        "labels:9 Task `labels` does not say what it makes; write -> and the type of its product.",
    ),
    "float field": (
        LABELS.replace("number: int", "wide: float") + HOOK.format("tasks=(labels,)"),
        "labels:9 Task `labels`: `Labels.wide` is a float; a length is a Length, any other number an int or a Fraction.",
    ),
    "float field that a section shows": (
        LABELS.replace("number: int", "wide: float")
        + '@section("Labels", after="steps")\ndef pages(labels: Labels) -> Blocks:\n    """Labels."""\n    yield NewPage()\n'
        + HOOK.format("tasks=(labels,), sections=(pages,)"),
        "labels:9 Task `labels`: `Labels.wide` is a float; a length is a Length, any other number an int or a Fraction.",
    ),
    "float deep inside": (
        LABELS.replace("number: int", "number: tuple[tuple[str, float], ...]") + HOOK.format("tasks=(labels,)"),
        "labels:9 Task `labels`: `Labels.number` is a float; a length is a Length, any other number an int or a Fraction.",
    ),
    "list field": (
        LABELS.replace("number: int", "rows: list[int]") + HOOK.format("tasks=(labels,)"),
        "labels:9 Task `labels`: `Labels.rows` is a list, which can be changed; use a tuple.",
    ),
    "unfrozen product": (
        LABELS.replace("(frozen=True)", "") + HOOK.format("tasks=(labels,)"),
        "labels:9 Task `labels`: `Labels` can be changed after it is made; write @dataclass(frozen=True).",
    ),
    "no docstring": (
        LABELS.replace('    """One label a part."""\n', "") + HOOK.format("tasks=(labels,)"),
        "labels:9 Task `labels` has no docstring; its first line says in lists what it is for.",
    ),
    "typo in default": (
        spline('"reciever.thickness / 3"'),
        "labels:7 The `default` of `Spline.depth` names `reciever.thickness`, which is nothing. · Did you mean receiver.thickness?",
    ),
    "typo in limit": (
        spline(more=', most="contact.widht / 2"'),
        "labels:7 The `most` of `Spline.depth` names `contact.widht`, which is nothing. · Did you mean contact.width?",
    ),
    "says nothing": (
        spline(says='""'),
        "labels:7 `Spline.depth` does not say what it is; makers read it in hints and in the reference.",
    ),
    "no word": (
        spline().replace('kind, how = "spline", "into"', 'how = "into"'),
        'labels:4 Joint `Spline` has no word; write kind = "…", the word makers use.',
    ),
    "unknown family": (
        spline().replace('"into"', '"onto"'),
        "labels:4 Joint `Spline`: `how` is 'onto'; it is one of into, to, with, on.",
    ),
    "no make": (
        spline().replace("def make", "def makes"),
        "labels:4 Joint `Spline` has no make; write def make(self, c: Contact) -> Work.",
    ),
    "no class of joint": (
        "class Spline:\n    pass\n" + HOOK.format("joint_kinds=(Spline,)"),
        "labels `joint_kinds` holds `Spline`, which is no kind of joint; write class Spline(Joint).",
    ),
    "section after nothing": (
        '@section("Labels", after="cutlist")\ndef pages(model: Model) -> Blocks:\n    """Labels."""\n    yield NewPage()\n'
        + HOOK.format("sections=(pages,)"),
        "labels:3 Section `labels` stands after `cutlist`, which is no section. · Did you mean cut list?",
    ),
    "rule without a source": (
        HOOK.format('safety_rules=(SafetyRule(word="WARNING", says="Sharp.", source="", tool="chisel"),)'),
        "labels Safety rule 'Sharp.' has no source; write where it comes from, or 'common practice, no source'.",
    ),
    "rule without occasion": (
        HOOK.format('safety_rules=(SafetyRule(word="WARNING", says="Sharp.", source="practice"),)'),
        "labels Safety rule 'Sharp.' is asked for by nothing: give an operation, a tool, a stock, a finish or a hazard.",
    ),
    "wrong signal word": (
        HOOK.format('safety_rules=(SafetyRule(word="BEWARE", says="Sharp.", source="practice", tool="chisel"),)'),
        "labels Safety rule 'Sharp.': the signal word is 'BEWARE'; it is one of DANGER, WARNING, CAUTION, NOTICE.",
    ),
    "suffix without a point": (
        '@export("csv")\ndef rows(model: Model) -> str:\n    """Rows."""\n    return ""\n' + HOOK.format("exports=(rows,)"),
        "labels:3 Export `rows`: the suffix is `csv`; it begins with a point, as in `.csv`.",
    ),
    "explanation without a topic": (
        'from collections.abc import Iterator\n@explanation(" ")\ndef why(model: Model) -> Iterator[str]:\n    """Why."""\n    yield "So."\n' + HOOK.format("explanations=(why,)"),
        "labels:4 Explanation `why` has no topic, the word that it is asked for by.",
    ),
    "settings without a key": (
        'class Wishes(Settings):\n    """Wishes."""\n    number: int = ask.count(1, "how many")\n'
        + LABELS.replace("model: Model", "wishes: Wishes") + HOOK.format("tasks=(labels,)"),
        'labels:3 Settings `Wishes` have no key; write key = "…", as makers write it.',
    ),
    "an import that fails": (
        "import no_such_module_anywhere\n",
        "labels:3 `labels` stopped: ModuleNotFoundError: No module named 'no_such_module_anywhere'.",
    ),
    "an import that opens a file": (
        "TEXT = open('notes.txt').read()\n",
        "labels:3 `labels` opens a file: notes.txt; a plugin gets all it needs as needs.",
    ),
    "an import that prints": (
        "print('hello')\n@hook\ndef plugin() -> Plugin:\n    return Plugin(contract=1)\n",
        "labels:3 `labels` prints “hello”. · Yield a warning or advice from a check.",
    ),
    "a plugin used that is not there": (
        "@hook\ndef plugin() -> Plugin:\n    return Plugin(contract=1, uses=('label',))\n",
        "labels `labels` uses the plugin `label`, which is not there. · Did you mean labels?",
    ),
    "an argument to the hook": (
        "@hook\ndef plugin(model) -> Plugin:\n    return Plugin(contract=1)\n",
        "labels:3 Its hook does not fit: Argument(s) {'model'} are declared in the hookimpl but can not be found in the hookspec;"
        " write def plugin() -> Plugin.",
    ),
    "a hook nobody asked for": (
        "@hook\ndef pluggin() -> Plugin:\n    return Plugin(contract=1)\n",
        "labels:3 Its hook does not fit: unknown hook `pluggin`; write def plugin() -> Plugin.",
    ),
}


@pytest.mark.parametrize("mistake", MISTAKES)
def test_a_mistake_is_told_once_with_plugin_and_line(mistake: str, tmp_path: Path) -> None:
    """Each mistake gives one message, and no other."""
    code, expected = MISTAKES[mistake]
    outcome = loaded(tmp_path, labels=HEAD + code)
    assert [expected] == [said(entry) for entry in outcome.report]


def test_a_plugin_in_trouble_leaves_the_others_standing(tmp_path: Path) -> None:
    """One that can't be imported, one that works."""
    outcome = loaded(tmp_path, broken="import no_such_module_anywhere\n", labels=HEAD + LABELS + HOOK.format("tasks=(labels,)"))
    assert ["broken"] == [entry.plugin for entry in outcome.report]
    assert outcome.value is not None
    assert ["labels"] == [entry.name for entry in outcome.value.tasks]


def test_a_product_made_twice_names_both_plugins(tmp_path: Path) -> None:
    """Neither is used: which one wins would depend on the order of loading."""
    one = HEAD + "@task\ndef cut_list(model: Model) -> CutList:\n    '''Rows.'''\n    return CutList()\n" + HOOK.format("tasks=(cut_list,)")
    outcome = loaded(tmp_path, board_feet=one, spline_shop=one)
    assert ["spline_shop:3 `CutList` is made twice: by board_feet and by spline_shop."
            " · One product has one maker; a task of tuple[X, ...] may be one of many."] == [said(entry) for entry in outcome.report]
    assert outcome.value is not None
    assert () == outcome.value.tasks


def test_a_joint_word_taken_twice_names_both_plugins(tmp_path: Path) -> None:
    """A word of the design can mean one kind only."""
    dado = HEAD + spline().replace('"spline"', '"dado"')
    outcome = loaded(tmp_path, dado=dado, spline_shop=dado)
    assert ["spline_shop:4 The joint word `dado` is taken: dado and spline_shop both bring it."] == [said(entry) for entry in outcome.report]


def test_a_topic_taken_twice_names_both_plugins(tmp_path: Path) -> None:
    """`kerfolio explain PLAN sheets` has one answer."""
    why = HEAD + "from collections.abc import Iterator\n@explanation('sheets')\ndef why(model: Model) -> Iterator[str]:\n    '''Why.'''\n    yield 'So.'\n"
    why += HOOK.format("explanations=(why,)")
    outcome = loaded(tmp_path, labels=why, spline_shop=why)
    assert ["spline_shop:4 The topic `sheets` is taken: labels and spline_shop both explain it."] == [said(entry) for entry in outcome.report]


def test_the_near_name_of_a_missing_need_is_offered(tmp_path: Path) -> None:
    """As in a plugin that asks for another's product by a wrong name."""
    makes = HEAD + LABELS.replace("Labels", "BoardFeet").replace("labels", "board_feet") + HOOK.format("tasks=(board_feet,)")
    needs = HEAD + "@dataclass(frozen=True)\nclass BoardFoot:\n    '''X.'''\n    number: int\n" \
        + LABELS.replace("model: Model", "tally: BoardFoot") + HOOK.format("tasks=(labels,)")
    outcome = loaded(tmp_path, board_feet=makes, labels=needs)
    assert ["labels:13 `labels` needs BoardFoot, which no plugin makes. · Did you mean BoardFeet?"] == [said(e) for e in outcome.report]


def test_a_circle_of_needs_is_named(tmp_path: Path) -> None:
    """The circle itself, not everything that hangs on it."""
    code = HEAD + '''
@dataclass(frozen=True)
class One:
    """One."""
    number: int

@dataclass(frozen=True)
class Two:
    """Two."""
    number: int

@task
def one(two: Two) -> One:
    """One from two."""
    return One(1)

@task
def two(one: One) -> Two:
    """Two from one."""
    return Two(1)
''' + HOOK.format("tasks=(one, two)")
    outcome = loaded(tmp_path, labels=code)
    assert ["labels:14 These tasks go round in a circle: `one` needs Two, `two` needs One."] == [said(e) for e in outcome.report]


def test_two_plugins_of_one_name_are_refused(tmp_path: Path) -> None:
    """A plan's plugin can't pose as the shop's."""
    from compiler.plug import load
    from tests.plug.plugins_at_hand import write

    code = HEAD + LABELS + HOOK.format("tasks=(labels,)")
    write(tmp_path, "labels", code)
    write(tmp_path / "bench", "labels", code)
    outcome = load(bundled=None, installed=False, shop=tmp_path, plan=tmp_path / "bench", trust_all=True)
    assert ["labels There are two plugins called `labels`: one in the shop's folder, one in the plan's folder."
            " · Rename the folder of one."] == [said(e) for e in outcome.report]


def test_the_contract_before_is_taken_with_a_remark() -> None:
    """N and N - 1 are spoken: seen from contract 2."""
    from compiler.base.report import Findings
    from compiler.plug.judging import Judged, judge
    from compiler.values.contributions import Author, Plugin

    found = Findings()
    judge(Plugin(contract=1), Author(plugin="labels"), found, Judged(), speaks=2)
    assert ["labels `labels` is made for contract 1, the one before; 2 is current."] == [said(e) for e in found.report()]
    assert found.report().ok
