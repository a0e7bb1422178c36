"""Documents as they go to somebody else: with a sponsor, or as a sample.

In: a built edition and what was wished for. Out: the same with another document. The plan, its lists and its letters stay as they are.
"""

from __future__ import annotations

from dataclasses import replace

from compiler.base.digests import digest
from compiler.base.report import Outcome, Report
from compiler.build.reading import Plan
from compiler.build.wishes import Built, Wishes


def presented(built: Built, plan: Plan, wishes: Wishes) -> Outcome[Built]:
    """The edition sponsored, as a sample, or both."""
    from compiler.stages.present import sample_of, sponsored

    document, report = built.document, Report()
    assert document is not None
    if wishes.sponsor is not None:
        sponsor = plan.sponsor(wishes.sponsor)
        report += sponsor.report
        if sponsor.value is None:
            return Outcome(None, report)
        document = sponsored(document, sponsor.value)
    if wishes.sample:
        sample = sample_of(document, built.sample)
        report += sample.report
        document = sample.value or document
    # What stands beside the booklet (flat parts, lists as files) is not for those who have only a sample.
    exports = () if wishes.sample else built.exports
    return Outcome(replace(built, document=document, document_digest=digest(document), exports=exports), report)
