"""Exact measures, reports and digests: what every other package stands on."""
