"""The surroundings that every test runs in: one time zone, locale and width, no colour, no clock from outside.

A test that changes them uses monkeypatch, which puts them back. Builders of values live in ordinary modules.
"""

import os
import time

from hypothesis import settings

_SURROUNDINGS = {
    "TZ": "UTC",
    "LC_ALL": "C.UTF-8",
    "LANG": "C.UTF-8",
    "COLUMNS": "100",
    "LINES": "40",
    "NO_COLOR": "1",
    "TERM": "dumb",
}
_UNSET = ("SOURCE_DATE_EPOCH", "FORCE_COLOR", "CLICOLOR_FORCE", "LANGUAGE", "LC_CTYPE", "LC_NUMERIC")

# Before any test module is imported, so that what is read at import time is the same too.
os.environ.update(_SURROUNDINGS)
for _name in _UNSET:
    os.environ.pop(_name, None)
if hasattr(time, "tzset"):
    time.tzset()

settings.register_profile("same examples on every machine", derandomize=True, deadline=None)
settings.load_profile("same examples on every machine")
