"""From documents to sheets: every edition in a theme's clothes, laid out, with its record.

In: a plan, its built editions, an account. Out: `Finished`, which holds all that publishing writes. A layout is kept under the digests of
the document and of every theme file that was looked for.
"""

from __future__ import annotations

import hashlib
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from compiler import record
from compiler.base.digests import digest
from compiler.base.report import Diagnostic, Outcome, Report
from compiler.build.reading import Plan
from compiler.build.surroundings import tools, versions
from compiler.build.theming import load, theme_folders
from compiler.build.wishes import Built, Sheet
from compiler.store.account import Account
from compiler.store.deciding import Ingredients, key_of
from compiler.values.model import Edition

if TYPE_CHECKING:
    from compiler.values.theme import Theme


def sheet(
    built: Built, plan: Plan, edition: Edition, stem: str, theme: str | None, account: Account, letters: str
) -> tuple[Outcome[tuple[Sheet, bytes]], Theme | None]:
    """One edition ready to be written, with its PDF; and the theme that it wears. `letters` is letters.yaml as it will be."""
    assert built.document is not None and built.model is not None and built.step is not None
    loaded = load(plan, theme)
    if loaded.value is None:
        return Outcome(None, loaded.report), None
    clothes = loaded.value
    reads = _reads(clothes, plan)
    made_from = (*tools(), ("the document", built.document_digest), ("the theme's name", clothes.name), *reads)
    name = f"pages of {edition.name}"
    finished = account.keep(name, made_from, lambda: _lay_out(built, plan, edition, clothes, account), lambda outcome: outcome.value is not None)
    report = loaded.report + finished.report
    if finished.value is None:
        return Outcome(None, report), clothes
    pdf = finished.value
    exports, told = _files(built, clothes, account, reads)
    report += told
    if not told.ok:
        return Outcome(None, report), clothes
    cut_list, hardware = built.lists
    written = record.write(
        record.make(
            model=built.model,
            step=built.step,
            pdf=pdf.content,
            pages=pdf.page_count,
            theme=clothes.chain,
            inputs=(*plan.ingredients(letters), *reads),  # as they are after publishing: the first publish and the second give one record
            versions=versions(),
            cut_list=cut_list,
            hardware=hardware,
            changes=built.history.issues[-1].changes if built.history.issues else (),
            files=exports,
        )
    )
    made = Sheet(
        stem=stem, name=edition.name, pages=pdf.page_count, pdf=hashlib.sha256(pdf.content).hexdigest(), kept=key_of(name, made_from),
        record=written, exports=exports,
    )
    return Outcome((made, pdf.content), report), clothes


def _files(built: Built, theme: Theme, account: Account, reads: Ingredients) -> tuple[tuple[tuple[str, bytes], ...], Report]:
    """The files beside the PDF; pages that a plugin drew are set in the theme's letters."""
    from compiler.stages.dress import leaves_in
    from compiler.stages.publish import publish

    found: list[tuple[str, bytes]] = []
    report = Report()
    for suffix, value in built.exports:
        if isinstance(value, bytes):
            found.append((suffix, value))
            continue
        document = built.document
        assert document is not None
        pages = leaves_in(value, theme, author=document.shop, language=document.language, date=document.date)
        made_from = (*tools(), ("its leaves", digest(value)), ("the plan's facts", digest((document.shop, document.language, document.date))), *reads)
        made = account.keep(f"file {suffix}", made_from, partial(publish, pages), lambda outcome: outcome.value is not None)
        report += made.report
        if made.value is not None:
            found.append((suffix, made.value.content))
    return tuple(found), report


def _lay_out(built: Built, plan: Plan, edition: Edition, theme: Theme, account: Account) -> Outcome[Any]:
    from compiler.stages.dress import dress
    from compiler.stages.publish import publish

    assert built.document is not None
    pages = dress(built.document, theme)
    if pages.value is None:
        return Outcome(None, pages.report)
    home = digest(("seeds", str(plan.folder.resolve()), edition, theme.name))
    try:
        published = publish(pages.value, seeds=account.store.get(home))
    except OSError as fault:  # the layout engine puts fonts into the system's temporary folder
        says = f"The pages can't be set: the temporary folder can't be written to ({fault.strerror or fault})."
        return Outcome(None, pages.report + Report((Diagnostic("cannot-write", says, None, "Make room on its disk."),)))
    if published.value is not None:
        account.store.put(home, published.value.seeds)
    return Outcome(published.value, pages.report + published.report)


def _reads(theme: Theme, plan: Plan) -> Ingredients:
    """Every theme file that was looked for, by its path from the folder of themes."""
    found = []
    for read in theme.reads:
        place = Path(read.place)
        home = next((folder for folder in theme_folders(plan) if place.is_relative_to(folder)), place.parent)
        found.append((f"{place.relative_to(home).as_posix()} of the {'shop' if home == theme_folders(plan)[0] else 'bundled themes'}", read.digest or "absent"))
    return tuple(dict.fromkeys(found))

