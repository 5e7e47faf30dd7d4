"""Episodes of a signal over a threshold, crossings exact."""

import numpy as np

THRESHOLD, SHORTEST, DIP, BRIDGE = 22.0, 300_000.0, 30_000.0, 120_000.0
LEAST_KNOWN, LEAST_PAST, SLACK, TOLERANCE = 0.5, 0.8, 1e-3, 1.0
PAST, WITHIN, UNKNOWN = 1, 0, -1


def stretches(t, x, known):
    """Maximal stretches past the threshold, within it and unknown, in time order."""
    i = np.flatnonzero(known)
    over = x - THRESHOLD
    a, b = over[i], over[i + 1]
    cross = (a > 0) != (b > 0)
    share = np.divide(-a, b - a, out=np.zeros(len(a)), where=cross)
    middle = np.where(cross, t[i] + (t[i + 1] - t[i]) * share, t[i + 1])
    start = np.column_stack((t[i], middle)).ravel()
    end = np.column_stack((middle, t[i + 1])).ravel()
    state = np.column_stack((a > 0, b > 0)).ravel().astype(int)
    some = start < end
    start, end, state = start[some], end[some], state[some]
    if len(start) == 0:
        return []
    new = np.concatenate(([True], (state[1:] != state[:-1]) | (start[1:] > end[:-1])))
    first = np.flatnonzero(new)
    last = np.concatenate((first[1:] - 1, [len(start) - 1]))
    found = []
    for s, e, kind in zip(start[first].tolist(), end[last].tolist(), state[first].tolist()):
        if found and found[-1][2] < s:
            found.append((UNKNOWN, found[-1][2], s))
        found.append((kind, s, e))
    return found


def chains(found):
    """Stretches past the threshold (start, end, within before, unknown before) that belong together."""
    within, unknown, all_ = 0.0, np.inf, []
    for state, start, end in found:
        if state == PAST:
            short = within + unknown <= DIP + TOLERANCE or (within == 0 and unknown <= BRIDGE + TOLERANCE)
            if all_ and short:
                all_[-1].append((start, end, within, unknown))
            else:
                all_.append([(start, end, 0.0, 0.0)])
            within = unknown = 0.0
        elif state == WITHIN:
            within += end - start
        else:
            unknown += end - start
    return all_


def longest_span(chain):
    """The longest part that is known and past the threshold enough, as first and last index; None without one."""
    start, end, within, unknown = np.array(chain).T
    past = end - start
    gap_a, gap_b = -LEAST_PAST * within, within - LEAST_KNOWN * (within + unknown)
    own_a, own_b = past - LEAST_PAST * past, past - LEAST_KNOWN * past
    close_a, close_b = np.cumsum(gap_a + own_a), np.cumsum(gap_b + own_b)
    open_a, open_b = close_a - own_a, close_b - own_b
    best, length = None, -1.0
    for i in range(len(chain)):
        if end[-1] - start[i] <= length:
            break
        good = np.flatnonzero((close_a[i:] + SLACK >= open_a[i]) & (close_b[i:] + SLACK >= open_b[i]))
        if len(good) and end[i + good[-1]] - start[i] > length:
            best, length = (i, i + int(good[-1])), end[i + good[-1]] - start[i]
    return best


def solid_parts(chain):
    if not chain or chain[-1][1] - chain[0][0] < SHORTEST - TOLERANCE:
        return []
    span = longest_span(chain)
    if span is None:
        return []
    part = (chain[span[0]][0], chain[span[1]][1])
    if part[1] - part[0] < SHORTEST - TOLERANCE:
        return []
    return [*solid_parts(chain[: span[0]]), part, *solid_parts(chain[span[1] + 1 :])]


def find_episodes(t, x, known):
    """Start, end, whether it was past the threshold already when it came into view, and still when it left."""
    found = stretches(t, x, known)
    if not found:
        return []
    long = [(s, e) for state, s, e in found if state == UNKNOWN and e - s > BRIDGE + TOLERANCE]
    starts = {found[0][1], *(e for _, e in long)}
    ends = {found[-1][2], *(s for s, _ in long)}
    parts = [part for chain in chains(found) for part in solid_parts(chain)]
    return [(s, e, s in starts, e in ends) for s, e in parts]
