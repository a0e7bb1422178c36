"""Pages → PDF: layout, page numbers, tags, bookmarks, labels, fonts, all the same bytes on every machine.

In: Pages and, if there are any, seeds of an earlier layout. Out: Outcome[PublishedPdf]. WeasyPrint lives here and in
the drawing writer it asks for figures. This stage must not know documents, blocks or templates.
"""

from compiler.stages.publish.publishing import publish

__all__ = ["publish"]
