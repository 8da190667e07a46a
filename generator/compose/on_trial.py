"""Mark a document as on trial: something in it has been approved by nobody as it stands.

Takes  a finished document.
Gives  `on_trial`: the same document with a strip across the top of every page.
Knows  the words of that strip. They are put in after the template, so that no clinic's own template can leave them out.
"""

from __future__ import annotations

import re
from dataclasses import replace

from generator.page.document import Document

WORDS = "TRIAL: not approved as it stands. For drills and proofreading, not for an animal or its owner."
_BODY = re.compile(r"<body[^>]*>")


def on_trial(document: Document) -> Document:
    """The document with the strip on each page, and the word in its title."""
    found = _BODY.search(document.xhtml)
    assert found is not None, "a document has a body"
    language = "" if document.language == "en" else ' lang="en"'
    strip = f'<aside class="band alarm"><p{language}><strong>{WORDS}</strong></p></aside>'
    xhtml = document.xhtml[: found.end()] + strip + document.xhtml[found.end() :]
    return replace(document, xhtml=xhtml, title=f"TRIAL: {document.title}")
