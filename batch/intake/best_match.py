"""Which of two sets belong together, all at once: the assignment that is worth most."""

from __future__ import annotations

MANY = 60  # rows, from which on rows and columns change places where there are fewer columns


def solve(worth: list[list[float]]) -> tuple[list[int], float]:
    """The assignment of rows to columns that is worth most, each at most once: (column of each row, -1 = none; its worth).

    The Hungarian method with potentials (H. W. Kuhn, "The Hungarian method for the assignment problem", Naval Research Logistics
    Quarterly 2, 1955: cited from memory).
    """
    bidding = [at for at, row in enumerate(worth) if any(value > 0 for value in row)]
    if len(bidding) < len(worth):  # those that are worth nothing anywhere stay without a column, and take no time
        some, total = solve([worth[at] for at in bidding])
        found = [-1] * len(worth)
        for at, place in zip(bidding, some, strict=True):
            found[at] = place
        return found, total
    rows, width = len(worth), max((len(row) for row in worth), default=0)
    if not rows or not width:
        return [-1] * rows, 0.0
    if rows > MANY > width:  # the time grows with the square of the rows: so the columns seek their rows
        places, total = solve([list(column) for column in zip(*worth, strict=True)])
        found = [-1] * rows
        for place, row in enumerate(places):
            if row >= 0 and worth[row][place] > 0:
                found[row] = place
        return found, total
    size = width + rows  # a row may stay without a column
    high = max(max(row) for row in worth)
    cost = [[high - value for value in row] + [high] * rows for row in worth]
    endless = float("inf")
    u, v, match, way = [0.0] * (rows + 1), [0.0] * (size + 1), [0] * (size + 1), [0] * (size + 1)
    for row in range(1, rows + 1):
        match[0], column = row, 0
        least, used = [endless] * (size + 1), [False] * (size + 1)
        while True:
            used[column] = True
            at, delta, nearest = match[column], endless, 0
            for other in range(1, size + 1):
                if not used[other]:
                    current = cost[at - 1][other - 1] - u[at] - v[other]
                    if current < least[other]:
                        least[other], way[other] = current, column
                    if least[other] < delta:
                        delta, nearest = least[other], other
            for other in range(size + 1):
                if used[other]:
                    u[match[other]] += delta
                    v[other] -= delta
                else:
                    least[other] -= delta
            column = nearest
            if match[column] == 0:
                break
        while column:
            match[column] = match[way[column]]
            column = way[column]
    found = [-1] * rows
    for column in range(1, size + 1):
        if match[column]:
            found[match[column] - 1] = column - 1 if column <= width else -1
    return found, sum(worth[row][place] for row, place in enumerate(found) if place >= 0)
