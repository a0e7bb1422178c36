"""Drawings made by rule from parts and solids, and the writers that put them on paper, on a screen or on a machine."""
