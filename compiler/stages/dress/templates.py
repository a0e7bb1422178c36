"""Templates: Jinja, kept in its cage.

In: template sources by name, names a template may use. Out: rendered markup, or a TemplateFault that names the template,
its line and what stands there. A template sees what it is given and nothing else; unknown names are faults; everything is escaped. A runaway
(endless recursion, a loop of 10⁹ turns, a text that doubles itself) is stopped by counting turns, calls and letters,
never by a clock, so that it is stopped at the same place on every machine.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from typing import Any, cast

from jinja2 import DictLoader, Template, TemplateError, TemplateNotFound, TemplateSyntaxError, nodes
from jinja2.exceptions import SecurityError
from jinja2.filters import FILTERS
from jinja2.nodes import EvalContext
from jinja2.runtime import Context
from jinja2.sandbox import SandboxedEnvironment
from jinja2.tests import TESTS
from jinja2.utils import pass_eval_context
from markupsafe import Markup

from compiler.base.report import Findings
from compiler.language.names import meant
from compiler.stages.dress.template_faults import (
    FILTERS_ALLOWED,
    NoSuchName,
    TemplateFault,
    Unknown,
    asked,
    unread,
)

TURNS = 1_000_000
"""Loop turns and calls in one document; a plan of 40 pages takes about 20,000."""
LETTERS = 2_000_000
"""Length of one text that a template may put together."""
NUMBERS = 4_000
"""Bits of a whole number that a template may work out."""
TEXT_METHODS_DENIED = frozenset(("replace", "join", "center", "ljust", "rjust", "zfill", "expandtabs", "format", "format_map", "translate"))


class _Runaway(Exception):
    """Turns, letters or figures ran out."""


_CODE: dict[tuple[str, str | None], Any] = {}


class _Cage(SandboxedEnvironment):
    """The sandbox, with turns counted and dangerous corners taken out."""

    intercepted_binops = frozenset(("*", "**", "%", "+"))

    def __init__(self, sources: Mapping[str, str]) -> None:
        super().__init__(loader=DictLoader(sources), undefined=Unknown, autoescape=True, trim_blocks=True,
                         lstrip_blocks=True, keep_trailing_newline=False)
        self.filters = {name: FILTERS[name] for name in FILTERS_ALLOWED} | {"replace": _replaced, "join": _strung, "batch": _batched}
        self.tests = dict(TESTS)
        self.globals = {}
        self.turns = 0

    def compile(self, source: Any, name: str | None = None, *more: Any, **named: Any) -> Any:
        """The code of a template, which is the same in every plan of a process: made once."""
        key = (source, name)
        if key not in _CODE:
            _CODE[key] = super().compile(source, name, name)  # its own name as file: faults say in which template they are
        return _CODE[key]

    def tick(self) -> None:
        """Count one turn."""
        self.turns += 1
        if self.turns > TURNS:
            raise _Runaway(f"runs on for more than {TURNS:,} turns")

    def counted(self, items: Iterable[Any]) -> Iterator[Any]:
        """The items, each counted."""
        for item in items:
            self.tick()
            yield item

    def joined(self, *texts: Any) -> Any:
        """What `~` does, within bounds."""
        self.tick()
        _room(sum(len(text) for text in texts if isinstance(text, str)))
        return Markup("").join(texts)

    def call(self, context: Context, function: Any, /, *args: Any, **keywords: Any) -> Any:
        self.tick()
        return super().call(context, function, *args, **keywords)

    def call_binop(self, context: Context, operation: str, left: Any, right: Any) -> Any:
        numbers = isinstance(left, (int, float)) and isinstance(right, (int, float))
        if operation == "+" and not numbers:
            return self.joined(left, right) if isinstance(left, str) else operator.add(left, right)
        if not numbers or (operation == "**" and abs(right) > 64):
            raise SecurityError(f"{operation} is only for numbers here")
        figures = sum(abs(number).bit_length() for number in (left, right) if isinstance(number, int))
        if figures * (abs(right) if operation == "**" else 1) > NUMBERS:
            raise _Runaway(f"works out a number of more than {NUMBERS:,} bits")
        return super().call_binop(context, operation, left, right)

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        if isinstance(obj, str) and attr in TEXT_METHODS_DENIED:
            return False
        return super().is_safe_attribute(obj, attr, value)

    def get_template(self, *args: Any, **keywords: Any) -> Template:
        self.tick()
        return super().get_template(*args, **keywords)

    def _parse(self, source: str, name: str | None, filename: str | None) -> nodes.Template:
        tree = super()._parse(source, name, filename)
        for loop in tree.find_all(nodes.For):
            loop.iter = _call("counted", [cast(nodes.Expr, loop.iter)])
        for text in list(tree.find_all(nodes.Concat)):
            _become(tree, text, _call("joined", text.nodes))
        tree.set_environment(self)
        return tree


def _room(letters: int) -> None:
    """Raises _Runaway where a filter would put together too long a text or list."""
    if letters > LETTERS:
        raise _Runaway(f"puts together a text of more than {LETTERS:,} letters")


@pass_eval_context
def _replaced(context: EvalContext, text: Any, old: str, new: str, count: int | None = None) -> Any:
    _room(len(str(text)) + str(text).count(old) * len(new))
    return FILTERS["replace"](context, text, old, new, count)


@pass_eval_context
def _strung(context: EvalContext, items: Iterable[Any], between: str = "", attribute: str | int | None = None) -> Any:
    pieces = list(items)
    _room(sum(len(between) + (len(piece) if isinstance(piece, str) else 0) for piece in pieces))
    return FILTERS["join"](context, pieces, between, attribute)


def _batched(items: Iterable[Any], size: int, fill: Any = None) -> Iterator[list[Any]]:
    _room(size)
    yield from FILTERS["batch"](items, size, fill)


def _call(function: str, arguments: list[nodes.Expr]) -> nodes.Call:
    name = nodes.EnvironmentAttribute(function)
    return nodes.Call(name, arguments, [], None, None)


def _become(tree: nodes.Node, old: nodes.Node, new: nodes.Node) -> None:
    for parent in [tree, *tree.find_all(nodes.Node)]:
        for field, value in parent.iter_fields():
            if value is old:
                setattr(parent, field, new)
            elif isinstance(value, list):
                for index, item in enumerate(value):
                    if item is old:
                        value[index] = new


def compile_ahead(sources: Mapping[str, str]) -> None:
    """Compile templates for the plans to come. What is wrong with one is told when it is used."""
    cage = _Cage(sources)
    for name, source in sources.items():
        with suppress(TemplateError):
            cage.compile(source, name)


class Templates:
    """A theme's templates, compiled when first asked for."""

    def __init__(self, sources: Mapping[str, str], names: Mapping[str, Any]) -> None:
        self._sources = sources
        self._cage = _Cage(sources)
        self._cage.globals.update(names)
        self._compiled: dict[str, Template] = {}

    def render(self, template: str, **given: object) -> Markup:
        """The markup. Raises TemplateFault."""
        try:
            compiled = self._compiled.get(template)
            if compiled is None:
                compiled = self._compiled[template] = self._cage.get_template(template)
            return Markup(compiled.render(**given))
        except TemplateFault:
            raise
        except TemplateSyntaxError as fault:
            raise unread(fault, template, self._sources.get(fault.name or template, ""), self._cage) from None
        except TemplateNotFound as fault:
            raise TemplateFault(f"there is no template `{fault.name}`", *self._where(fault, template), str(fault.name),
                                meant(str(fault.name), self._sources)) from None
        except NoSuchName as fault:
            where, line = self._where(fault, template)
            says, known = asked(fault, self._sources[where].split("\n")[line - 1] if line else "", {*self._cage.globals, *given})
            raise TemplateFault(says, where, line, fault.name, meant(fault.name, sorted(known))) from None
        except RecursionError as fault:
            raise TemplateFault("it calls itself without end", *self._where(fault, template), hint="Let a condition end it.") from None
        except _Runaway as fault:
            self._cage.turns = 0  # for the others, so that their faults are found, too
            hint = "A whole plan takes some 20,000 turns." if "turns" in str(fault) else "Let a condition end it."
            raise TemplateFault(f"it {fault}", *self._where(fault, template), hint=hint, runaway=True) from None
        except (TemplateError, ArithmeticError, AttributeError, LookupError, TypeError, ValueError, MemoryError) as fault:
            raise TemplateFault(str(fault).removesuffix(".") or type(fault).__name__, *self._where(fault, template)) from None

    def _where(self, fault: BaseException, template: str) -> tuple[str, int]:
        """The innermost template that was being rendered, with its line (Jinja rewrites tracebacks to point there)."""
        found, step = (template, 0), fault.__traceback__
        while step is not None:
            if step.tb_frame.f_code.co_filename in self._sources:
                found = step.tb_frame.f_code.co_filename, step.tb_lineno
            step = step.tb_next
        return found


def judge_templates(templates: Iterable[tuple[str, str]], place: Callable[[str], str], found: Findings) -> None:
    """Compile each template; one that can't be read is told at its line. `place` gives the file of a name."""
    cage = _Cage(dict(templates))
    for name, source in templates:
        try:
            cage.compile(source, name)
        except TemplateSyntaxError as syntax:
            fault = unread(syntax, name, source, cage)
            found.error("template-syntax", f"The template `{name.removesuffix('.html')}` can't be read: {fault.says}.",
                        fault.spot(place(f"templates/{name}"), source), fault.hint)


def safe(function: Callable[..., str]) -> Callable[..., Markup]:
    """A function for templates whose text is markup already."""

    def marked(*args: Any, **keywords: Any) -> Markup:
        return Markup(function(*args, **keywords))

    return marked

