"""The command line: words in, exit code out.

Every command is one function that imports what it needs when it runs, so that `--help` and `check` start at once.
Exit codes: 0 done, 1 the plan has errors (or something could not be written), 2 the command was mistyped.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Literal, NoReturn

from compiler import __version__
from compiler.stopping import STOPPED, stoppable

if TYPE_CHECKING:
    from compiler.build import Lines, Wishes

Command = Callable[[argparse.Namespace], int]

STARTERS = ("table", "cabinet", "box")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit code. An interruption leaves every published file as it was."""
    parsed = _parser().parse_args(arguments)
    if not hasattr(parsed, "run"):
        _parser().print_help()
        return 2
    run: Command = parsed.run
    try:
        with stoppable():
            return run(parsed)
    except KeyboardInterrupt:
        print(STOPPED, file=sys.stderr)
        return 1
    except BrokenPipeError:
        # The reader of our output has gone (a pager that was closed): nothing is left to say.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    except Exception as fault:  # our own fault: the maker gets a sentence, the rest goes into a file
        return _failed(fault)


def _failed(fault: Exception) -> int:
    import tempfile
    import traceback

    path = Path(tempfile.gettempdir()) / "kerfolio-fault.txt"
    where = "could not be kept either"
    try:
        path.write_text("".join(traceback.format_exception(fault)), encoding="utf-8")
        where = f"is in {path}"
    except OSError:
        pass
    print(
        f"error: Kerfolio itself failed ({type(fault).__name__}: {fault}); your files are as they were. What happened {where}.",
        file=sys.stderr,
    )
    return 1


class _Words(argparse.ArgumentParser):
    """Says what was probably meant by a word that is none of those it may be."""

    def error(self, message: str) -> NoReturn:
        import difflib
        import re

        wrong = re.search(r"invalid choice: '([^']*)' \(choose from (.*)\)", message)
        if wrong is not None:
            choices = re.findall(r"[\w-]+", wrong[2])
            near = difflib.get_close_matches(wrong[1], choices, 1)
            message = f"There is no `{wrong[1]}` here. " + (f"Did you mean {near[0]}?" if near else f"There are {', '.join(choices)}.")
        self.exit(2, f"error: {message[:1].upper()}{message[1:]}\n  → {self.prog} --help says what may be written.\n")


def _parser() -> argparse.ArgumentParser:
    parser = _Words(
        prog="kerfolio", description="Makes a paginated plan from a furniture design and its build notes."
    )
    parser.add_argument("--version", action="version", version=f"kerfolio {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")

    new = commands.add_parser("new", help="start a plan from a starter, or a theme or a plugin of your own")
    new.add_argument("name", nargs="?", help="the new plan's folder name: lower-case words with hyphens")
    new.add_argument("--from", dest="starter", default="table", help="a starter (table, cabinet, box) or a plan of yours")
    new.add_argument("--theme", dest="new_theme", metavar="NAME", help="start a theme of your own instead: a child of the standard one")
    new.add_argument("--plugin", metavar="NAME", help="start a plugin instead: its name, lower-case words with hyphens")
    new.add_argument("--kind", choices=("joint", "task", "section", "export"), default="joint", help="what the plugin brings (default: joint)")
    new.add_argument("--at", type=Path, metavar="FOLDER", help="the plan's folder, or the shop's, that the plugin is for (default: the shop's)")
    new.add_argument("--package", action="store_true", help="write the plugin as a package that others install")
    new.set_defaults(run=_new)

    check = commands.add_parser("check", help="say everything that is wrong with a plan")
    _plans(check)
    check.set_defaults(run=_check)

    publish = commands.add_parser("publish", help="make the PDF of one or more plans")
    _plans(publish, many="*")
    publish.add_argument("--all", type=Path, nargs="?", const=Path("projects"), metavar="FOLDER", help="every plan of a folder (default: projects)")
    _output(publish)
    publish.add_argument("--sponsor", metavar="NAME", help="a sponsored edition: a name of sponsor.yaml, beside the plan or beside shop.yaml")
    publish.add_argument("--sample", action="store_true", help="a sample: chosen sections in full, the rest withheld, a watermark on every page")
    publish.add_argument("--jobs", type=int, metavar="N", help="how many plans at once (default: one a processor)")
    publish.add_argument("--dry", action="store_true", help="replace nothing; write a report of what would change")
    publish.add_argument("--report", type=Path, metavar="FILE", help="write what changed, page by page, as HTML (with --dry: changes.html)")
    publish.add_argument("-v", "--verbose", action="store_true", help="say what was made again and because of what")
    publish.set_defaults(run=_publish)

    compare = commands.add_parser("compare", help="show what changed: plans against what is published, or two PDFs")
    compare.add_argument("what", type=Path, nargs="+", metavar="PLAN", help="plans' folders, or an old and a new PDF")
    _editions(compare)
    _output(compare)
    compare.add_argument("--report", type=Path, metavar="FILE", help="the report (default: changes.html)")
    compare.set_defaults(run=_compare)

    stamp = commands.add_parser("stamp", help="make a numbered copy of a published PDF for each buyer")
    stamp.add_argument("what", type=Path, metavar="PLAN", help="the plan's folder, or a PDF that was published")
    stamp.add_argument("--name", action="append", help="the buyer's name; may be given again")
    stamp.add_argument("--buyers", type=Path, metavar="FILE", help="a text file with a name on each line")
    stamp.add_argument("--number", type=int, metavar="N", help="the first copy's number (default: one more than the last copy there)")
    stamp.add_argument("--out", type=Path, help="folder for the copies (default: copies, beside the PDF)")
    stamp.set_defaults(run=_stamp)

    watch = commands.add_parser("watch", help="publish again whenever a file is saved")
    watch.add_argument("plan", type=Path, help="the plan's folder")
    _editions(watch)
    _output(watch)
    watch.set_defaults(run=_watch)

    why = commands.add_parser("why", help="show where a size comes from")
    why.add_argument("plan", type=Path, help="the plan's folder")
    why.add_argument("quantity", help="such as shelf.length, or F for the part with that letter")
    why.add_argument("--units", choices=("inch", "mm"), help="of which edition")
    why.set_defaults(run=_why)

    manual = commands.add_parser("manual", help="print the makers' manual: everything that may be written, and every message")
    manual.add_argument("--out", type=Path, default=Path("out"), metavar="FOLDER", help="where to (default: out)")
    manual.add_argument("--theme", default="standard", help="the theme it is set in (default: standard)")
    manual.add_argument("--paper", choices=("letter", "a4"), default="letter", help="the paper (default: letter)")
    manual.set_defaults(run=_manual)

    explain = commands.add_parser("explain", help="show why the plan comes to what it does, such as to so many sheets")
    explain.add_argument("plan", type=Path, help="the plan's folder")
    explain.add_argument("topic", nargs="?", default="", help="such as sheets, boards or lengths; without it, what can be explained is listed")
    explain.add_argument("--units", choices=("inch", "mm"), help="of which edition")
    explain.set_defaults(run=_explain)

    plugins = commands.add_parser("plugins", help="list the plugins and what they bring")
    plugins.add_argument("plan", type=Path, nargs="?", help="a plan's folder, to list its own plugins too")
    plugins.set_defaults(run=_plugins)
    return parser


def _plans(parser: argparse.ArgumentParser, many: Literal["+", "*"] = "+") -> None:
    parser.add_argument("plans", type=Path, nargs=many, metavar="PLAN", help="a plan's folder, such as projects/low-bookcase")
    _editions(parser)


def _editions(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--units", choices=("inch", "mm"), help="the edition's units (default: the plan's first edition)")
    parser.add_argument("--paper", choices=("letter", "a4"), action="append", help="the paper; may be given twice")
    parser.add_argument("--trust", action="store_true", help="run the plugins in the plan's and the shop's folders this once")


def _output(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--out", type=Path, help="folder for the PDF and its record (default: the plan's own out folder)")
    parser.add_argument("--theme", help="dress it in another theme than the shop's")


def _check(parsed: argparse.Namespace) -> int:
    from compiler import build
    from compiler.showing import tell

    code = 0
    for folder in parsed.plans:
        checked = build.check(folder, _wishes(parsed))
        tell(checked.report, checked.place)
        if checked.report.ok:
            print(f"{folder}: no errors.{_counted(checked.report)}")
        else:
            code = 1
    return code


def _counted(report: object) -> str:
    from compiler.base.report import Report, Severity

    assert isinstance(report, Report)
    counts = [
        (severity, sum(1 for entry in report if entry.severity is severity))
        for severity in (Severity.WARNING, Severity.ADVICE)
    ]
    told = [f"{number} {severity}{'s' if number > 1 and severity is Severity.WARNING else ''}" for severity, number in counts if number]
    return f" {' and '.join(told).capitalize()} above." if told else ""


def _publish(parsed: argparse.Namespace) -> int:
    from compiler import printing

    return printing.publish(parsed, _wishes(parsed))


def _compare(parsed: argparse.Namespace) -> int:
    from compiler import printing

    return printing.compare(parsed, _wishes(parsed))


def _stamp(parsed: argparse.Namespace) -> int:
    from compiler import printing

    return printing.stamp(parsed)


def _watch(parsed: argparse.Namespace) -> int:
    from compiler import printing

    return printing.watch(parsed, _wishes(parsed))


def _wishes(parsed: argparse.Namespace) -> Wishes:
    from compiler import build

    return build.Wishes(units=parsed.units, papers=tuple(dict.fromkeys(parsed.paper or ())), trust=parsed.trust, theme=getattr(parsed, "theme", None),
                        sponsor=getattr(parsed, "sponsor", None), sample=getattr(parsed, "sample", False))


def _why(parsed: argparse.Namespace) -> int:
    from compiler import build

    explained = build.why(parsed.plan, parsed.quantity, build.Wishes(units=parsed.units))
    _tell(explained)
    return 0 if explained.lines else 1


def _explain(parsed: argparse.Namespace) -> int:
    from compiler import build

    explained = build.explain(parsed.plan, parsed.topic, build.Wishes(units=parsed.units))
    _tell(explained)
    return 0 if explained.lines else 1


def _plugins(parsed: argparse.Namespace) -> int:
    from compiler import build

    listed = build.plugins(parsed.plan)
    _tell(listed)
    return 0 if listed.report.ok else 1


def _tell(found: Lines) -> None:
    """Print what is wrong, then the lines that answer."""
    from compiler.showing import tell

    tell(found.report, found.place)
    for line in found.lines:
        print(line)


def _new(parsed: argparse.Namespace) -> int:
    from compiler import starting
    from compiler.showing import tell

    if sum(word is not None for word in (parsed.name, parsed.plugin, parsed.new_theme)) != 1:
        print("error: Say what is new: a plan (kerfolio new hall-table --from table), a theme (kerfolio new --theme our-shop) or a plugin"
              " (kerfolio new --plugin loose-key).", file=sys.stderr)
        return 2
    if parsed.new_theme is not None:
        return _new_theme(parsed.new_theme)
    if parsed.plugin is not None:
        return _new_plugin(parsed)
    started = starting.new_plan(parsed.name, parsed.starter)
    tell(started.report, None)
    if started.value is None:
        return 1
    print(f"{started.value} is ready. Change its design.yaml and notes.md, then: kerfolio publish {started.value}")
    return 0


def _new_theme(name: str) -> int:
    from compiler import starting
    from compiler.showing import tell

    started = starting.new_theme(name)
    tell(started.report, None)
    if started.value is None:
        return 1
    print(f"{started.value} is ready. Set its options in theme.toml, and put `theme: {name}` into shop.yaml to wear it.")
    return 0


def _new_plugin(parsed: argparse.Namespace) -> int:
    from compiler import scaffold
    from compiler.showing import tell

    outcome = scaffold.new_plugin(parsed.plugin, parsed.kind, at=parsed.at, package=parsed.package)
    tell(outcome.report, None)
    if outcome.value is None:
        return 1
    for line in scaffold.told(outcome.value):
        print(line)
    return 0


def _manual(parsed: argparse.Namespace) -> int:
    from compiler.manual.commands import commands
    from compiler.manual.printing import publish_manual
    from compiler.showing import progress, tell

    with progress("makers' manual") as at:
        outcome = publish_manual(commands(_parser()), parsed.out, theme=parsed.theme, paper=parsed.paper, progress=at)
    tell(outcome.report, None)
    if outcome.value is None:
        return 1
    print(f"{outcome.value.path}  {outcome.value.pages} pages")
    return 0
