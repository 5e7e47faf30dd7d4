"""Time-weighted medians of a piecewise linear signal, for many windows at once."""

import numpy as np
import pandas as pd


class Ranked:
    """Time at each distinct value, and how its density changes there, by hour."""

    def __init__(self, pieces):
        self.pieces = pieces
        rank, self.values = pd.factorize(pieces.x, sort=True)
        self.low = np.minimum(rank[:-1], rank[1:])
        self.high = np.maximum(rank[:-1], rank[1:])
        rise = pieces.high - pieces.low
        self.flat = rise <= 1e-7
        self.density = np.divide(pieces.width, rise, out=np.zeros(len(rise)), where=~self.flat)

    def by_hour(self, known):
        hours, count = self.pieces.cells // 60, len(self.values)
        return self._sums(known, (self.pieces.minute // 60) * count, hours)

    def whole(self, known):
        return self._sums(known, np.zeros(len(known), np.intp), 1)

    def _sums(self, known, offset, rows):
        size = rows * len(self.values)
        sloping, flat = known & ~self.flat, known & self.flat
        d, o = self.density[sloping], offset[sloping]
        slopes = np.bincount(o + self.low[sloping], d, size) - np.bincount(o + self.high[sloping], d, size)
        atoms = np.bincount(offset[flat] + self.low[flat], self.pieces.width[flat], size)
        return atoms.reshape(rows, -1), slopes.reshape(rows, -1)

    def medians(self, atoms, slopes):
        """One for each row; NaN where nothing is known."""
        step = np.diff(self.values, append=self.values[-1])
        density = np.maximum(np.cumsum(slopes, axis=1), 0)
        room = density * step
        at = np.cumsum(atoms, axis=1)
        at[:, 1:] += np.cumsum(room, axis=1)[:, :-1]
        total = at[:, -1]
        target, slack = total / 2, total * 1e-12
        reached = (at + slack[:, None] >= target[:, None]) | (at + room >= target[:, None])
        result = np.full(len(total), np.nan)
        for row in np.flatnonzero(total > 0):
            i = int(np.argmax(reached[row]))
            if at[row, i] >= target[row] + slack[row] or i + 1 == len(self.values):
                result[row] = self.values[i]
            elif at[row, i] + slack[row] < target[row]:
                result[row] = self.values[i] + (target[row] - at[row, i]) / density[row, i]
            elif room[row, i] > slack[row]:
                result[row] = self.values[i]
            else:
                # No time lies between this value and the next one that x takes: the gap is split.
                later = np.flatnonzero((atoms[row, i + 1 :] > slack[row]) | (room[row, i + 1 :] > slack[row]))
                result[row] = (self.values[i] + self.values[i + 1 + later[0]]) / 2
        return result
