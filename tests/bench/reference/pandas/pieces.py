"""x(t): linear between neighbouring samples at most max_gap apart, unknown elsewhere. Times in ms after a whole hour."""

import numpy as np

HOUR = 3_600_000.0
MINUTE = 60_000.0


def max_gap(t):
    """Three times the median spacing; the rate is taken as steady. Shortest 2 s, longest 15 min."""
    return min(15 * MINUTE, max(2000.0, 3 * np.median(np.diff(t))))


def runs(holds):
    """First and last index of each run of true values."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], holds.view(np.int8), [0]))))
    return edges[::2], edges[1::2] - 1


def without(known, spans):
    """Pieces that touch no sample of the spans (first and last index)."""
    marked = np.zeros(len(known) + 1, bool)
    for first, last in spans:
        marked[first : last + 1] = True
    return known & ~marked[:-1] & ~marked[1:]


class Pieces:
    """Pieces cut at whole minutes, so that minutes, hours and nights are made of whole pieces."""

    def __init__(self, t, x, cells):
        t0, t1 = t[:-1], t[1:]
        bound = (np.floor(t0 / MINUTE) + 1) * MINUTE
        # A piece longer than a minute is never known here, so one cut is enough.
        self.crossing = np.flatnonzero((bound < t1) & (t1 - t0 <= MINUTE))
        k = self.crossing
        share = (bound[k] - t0[k]) / (t1[k] - t0[k])
        self.t = np.insert(t, k + 1, bound[k])
        self.x = np.insert(x, k + 1, x[k] + (x[k + 1] - x[k]) * share)
        self.width = np.diff(self.t)
        self.minute = (self.t[:-1] // MINUTE).astype(np.intp)
        self.cells = cells
        a, b = self.x[:-1], self.x[1:]
        self.low, self.high = np.minimum(a, b), np.maximum(a, b)
        self.area = (a + b) / 2 * self.width

    def spread(self, known):
        """Which of the cut pieces are known."""
        return np.insert(known, self.crossing + 1, known[self.crossing])

    def above(self, u):
        """Milliseconds of each piece over u."""
        time = np.where((self.high > u) & (self.low >= u), self.width, 0.0)
        k = np.flatnonzero((self.high > u) & (self.low < u))
        time[k] = self.width[k] * (self.high[k] - u) / (self.high[k] - self.low[k])
        return time

    def below(self, u):
        time = np.where((self.low < u) & (self.high <= u), self.width, 0.0)
        k = np.flatnonzero((self.high > u) & (self.low < u))
        time[k] = self.width[k] * (u - self.low[k]) / (self.high[k] - self.low[k])
        return time

    def within(self, lo, hi, closed):
        """Milliseconds of each piece in [lo, hi), or [lo, hi] where closed."""
        time = self.width - self.below(lo) - self.above(hi)
        if not closed:
            time[(self.low == hi) & (self.high == hi)] = 0.0
        return time

    def dose_above(self, u):
        """Area of each piece over u."""
        area = np.where(self.low >= u, self.area - u * self.width, 0.0)
        k = np.flatnonzero((self.high > u) & (self.low < u))
        over = self.high[k] - u
        area[k] = over * over * self.width[k] / (2 * (self.high[k] - self.low[k]))
        return area

    def dose_below(self, u):
        area = np.where(self.high <= u, u * self.width - self.area, 0.0)
        k = np.flatnonzero((self.high > u) & (self.low < u))
        under = u - self.low[k]
        area[k] = under * under * self.width[k] / (2 * (self.high[k] - self.low[k]))
        return area

    def by_minute(self, amount, known):
        return np.bincount(self.minute[known], amount[known], minlength=self.cells)

    def by_hour(self, amount, known):
        return np.bincount(self.minute[known] // 60, amount[known], minlength=self.cells // 60)
