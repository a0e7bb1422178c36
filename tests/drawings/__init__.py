"""Drawings as they are printed: every figure of every plan and starter, in both editions, measured on its marks."""
