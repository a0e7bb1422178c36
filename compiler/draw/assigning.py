"""Places shared out: each row its own column at the least cost, and lines that cross or come near a point.

In: a table of costs; segments. Out: a column for each row; whether two segments meet, how far one lies off a point. It must not know what is shared out.
"""

from __future__ import annotations

from math import hypot, inf

from compiler.values.figure import Point


def cross(first: tuple[Point, Point], second: tuple[Point, Point]) -> bool:
    """True when two segments meet inside both."""
    (a, b), (c, d) = first, second

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return (side(a, b, c) * side(a, b, d) < -1e-12) and (side(c, d, a) * side(c, d, b) < -1e-12)


def distance(segment: tuple[Point, Point], point: Point) -> float:
    """How far a point lies off a segment."""
    (ax, ay), (bx, by) = segment
    dx, dy = bx - ax, by - ay
    square = dx * dx + dy * dy
    share = min(1.0, max(0.0, ((point[0] - ax) * dx + (point[1] - ay) * dy) / square)) if square > 0 else 0.0
    return hypot(ax + share * dx - point[0], ay + share * dy - point[1])


def assignment(costs: list[list[float]]) -> list[int]:
    """The column of each row with the least sum, each column once (columns >= rows).

    Source: the shortest-augmenting-path form of the Hungarian method (Kuhn 1955, Munkres 1957).
    """
    rows, columns = len(costs), len(costs[0])
    row_price, column_price = [0.0] * (rows + 1), [0.0] * (columns + 1)
    owner, way = [0] * (columns + 1), [0] * (columns + 1)
    for row in range(1, rows + 1):
        owner[0] = row
        column = 0
        least = [inf] * (columns + 1)
        used = [False] * (columns + 1)
        while owner[column]:
            used[column] = True
            current, delta, next_column = owner[column], inf, 0
            for j in range(1, columns + 1):
                if used[j]:
                    continue
                reduced = costs[current - 1][j - 1] - row_price[current] - column_price[j]
                if reduced < least[j]:
                    least[j], way[j] = reduced, column
                if least[j] < delta:
                    delta, next_column = least[j], j
            for j in range(columns + 1):
                if used[j]:
                    row_price[owner[j]] += delta
                    column_price[j] -= delta
                else:
                    least[j] -= delta
            column = next_column
        while column:
            owner[column] = owner[way[column]]
            column = way[column]
    result = [0] * rows
    for j in range(1, columns + 1):
        if owner[j]:
            result[owner[j] - 1] = j - 1
    return result
