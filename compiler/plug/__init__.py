"""Plugins: found, trusted, imported, judged, and frozen into one value of contributions."""

from compiler.plug.finding import Candidate, find, folder_digest
from compiler.plug.importing import of_a_plugin
from compiler.plug.loading import load, load_given

__all__ = ["Candidate", "find", "folder_digest", "load", "load_given", "of_a_plugin"]
