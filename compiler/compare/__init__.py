"""What changed between two issues of a plan: pages, words, numbers, drawings, and the lists row by row."""
