"""Templates: Jinja, kept in its cage.

In: template sources by name, names a template may use. Out: rendered markup, or a TemplateFault that names the template
and line. A template sees what it is given and nothing else; unknown names are faults; everything is escaped. A runaway
(endless recursion, a loop of 10⁹ turns, a text that doubles itself) is stopped by counting turns, calls and letters,
never by a clock, so that it is stopped at the same place on every machine.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from typing import Any, cast

from jinja2 import DictLoader, StrictUndefined, Template, TemplateError, TemplateSyntaxError, nodes
from jinja2.exceptions import SecurityError
from jinja2.filters import FILTERS
from jinja2.runtime import Context
from jinja2.sandbox import SandboxedEnvironment
from jinja2.tests import TESTS
from markupsafe import Markup

TURNS = 1_000_000
"""Loop turns and calls in one document; a plan of 40 pages takes about 20,000."""
LETTERS = 2_000_000
"""Length of one text that a template may put together."""

FILTERS_ALLOWED = ("batch", "capitalize", "count", "default", "first", "float", "int", "join", "last", "length", "list", "lower", "map", "max",
                   "min", "replace", "reject", "rejectattr", "round", "select", "selectattr", "sum", "title", "trim", "upper")
TEXT_METHODS_DENIED = frozenset(("center", "ljust", "rjust", "zfill", "expandtabs", "format", "format_map", "translate"))


class TemplateFault(Exception):
    """A template failed. `template` is its name, `line` 0 when unknown."""

    def __init__(self, says: str, template: str, line: int = 0) -> None:
        super().__init__(says)
        self.says, self.template, self.line = says, template, line


class _Runaway(Exception):
    """Turns or letters ran out."""


_CODE: dict[tuple[str, str | None], Any] = {}


class _Cage(SandboxedEnvironment):
    """The sandbox, with turns counted and dangerous corners taken out."""

    intercepted_binops = frozenset(("*", "**", "%", "+"))

    def __init__(self, sources: Mapping[str, str]) -> None:
        super().__init__(loader=DictLoader(sources), undefined=StrictUndefined, autoescape=True, trim_blocks=True,
                         lstrip_blocks=True, keep_trailing_newline=False)
        self.filters = {name: FILTERS[name] for name in FILTERS_ALLOWED}
        self.tests = dict(TESTS)
        self.globals = {}
        self.turns = 0

    def compile(self, source: Any, name: str | None = None, *more: Any, **named: Any) -> Any:
        """The code of a template, which is the same in every plan of a process: made once."""
        key = (source, name)
        if key not in _CODE:
            _CODE[key] = super().compile(source, name, *more, **named)
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
        if sum(len(text) for text in texts if isinstance(text, str)) > LETTERS:
            raise _Runaway(f"puts together a text of more than {LETTERS:,} letters")
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
            raise TemplateFault(fault.message or "can't be read", fault.name or template, fault.lineno) from None
        except RecursionError:
            raise TemplateFault("calls itself without end", template) from None
        except _Runaway as fault:
            raise TemplateFault(str(fault), template, _line(fault, template)) from None
        except (TemplateError, ArithmeticError, AttributeError, LookupError, TypeError, ValueError) as fault:
            raise TemplateFault(str(fault) or type(fault).__name__, template, _line(fault, template)) from None


def safe(function: Callable[..., str]) -> Callable[..., Markup]:
    """A function for templates whose text is markup already."""

    def marked(*args: Any, **keywords: Any) -> Markup:
        return Markup(function(*args, **keywords))

    return marked


def _line(fault: BaseException, template: str) -> int:
    """The line of the template that was being rendered (Jinja rewrites tracebacks to point there)."""
    line, step = 0, fault.__traceback__
    while step is not None:
        if step.tb_frame.f_code.co_filename in ("<template>", template):
            line = step.tb_lineno
        step = step.tb_next
    return line
