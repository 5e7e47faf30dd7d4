"""The cleaning rules of the benchmark, on samples as they came: spans of first and last index by rule."""

import numpy as np
from pieces import runs


def equal_runs(x, known):
    first, last = runs(known & (x[:-1] == x[1:]))
    last = last + 1
    keep = last - first >= 3
    first, last = first[keep], last[keep]
    pairs = known.sum()
    different = (known & (x[:-1] != x[1:])).sum()
    elsewhere = pairs - (last - first)
    share = np.divide(different, elsewhere, out=np.zeros(len(first)), where=elsewhere > 0)
    chance = (1 - share) ** (last - first)
    return first, last, chance, different >= max(5, pairs / 1000)


def ceiling_of(t, x, found):
    """The highest value that the channel can show, where it stays at it and comes back; else NaN."""
    first, last, chance, _ = found
    inside = x[(x >= -20) & (x <= 150)]
    if len(inside) == 0:
        return np.nan
    highest = inside.max()
    stays = (x[first] == highest) & (t[last] - t[first] >= 15_000) & (chance < 1e-6)
    visits = len(runs(x == highest)[0])
    return highest if stays.any() and visits >= 3 else np.nan


def outside_range(x, lowest, highest):
    return list(zip(*runs((x < lowest) | (x > highest))))


def flatline(t, x, known, is_icp):
    found = equal_runs(x, known)
    first, last, chance, has_lived = found
    if not has_lived:
        chance = 0.9 ** (last - first)
    ceiling = ceiling_of(t, x, found) if is_icp else np.nan
    keep = (t[last] - t[first] >= 300_000) & (chance < 1e-6) & (x[first] != ceiling)
    return list(zip(first[keep], last[keep]))


def negative(t, x, known):
    under = np.flatnonzero(x < 0)
    if len(under) == 0:
        return []
    holes = np.concatenate(([0], np.cumsum(~known)))
    before, after = under[:-1], under[1:]
    parted = (holes[before] != holes[after]) | (t[after - 1] - t[before] > 30_000)
    first = np.concatenate(([0], np.flatnonzero(parted) + 1))
    last = np.concatenate((first[1:] - 1, [len(under) - 1]))
    count = last - first + 1
    first, last = under[first], under[last]
    keep = (t[last] - t[first] >= 300_000) & (count >= 0.8 * (last - first + 1))
    return list(zip(first[keep], last[keep]))


def blank_stretches(t, blank_times, start, end, longest):
    """Stretches longer than max_gap in which rows came, but with blanks."""
    edges = np.concatenate(([start], t, [end]))
    from_, to = edges[:-1], edges[1:]
    long = to - from_ > longest
    from_, to = from_[long], to[long]
    has = np.searchsorted(blank_times, to, "right") > np.searchsorted(blank_times, from_, "left")
    return list(zip(from_[has], to[has]))
