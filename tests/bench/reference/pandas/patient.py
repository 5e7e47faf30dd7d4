"""All figures of one patient's export."""

import hashlib
import io
import os

import numpy as np
import pandas as pd
from episodes import THRESHOLD, find_episodes
from medians import Ranked
from pieces import HOUR, MINUTE, Pieces, max_gap, without
from rules import blank_stretches, flatline, negative, outside_range

FLOOR = 60.0
RANGES = {"icp": (-20, 150), "map": (0, 300)}
REMOVED = ("outsideRange", "disconnected", "flatline")


class Channel:
    def __init__(self, kind, times, cells, start, end):
        self.blank = blank = np.isnan(cells)
        self.t, self.x = times[~blank], cells[~blank]
        gap = max_gap(self.t)
        self.known = np.diff(self.t) <= gap
        self.spans = {
            "outsideRange": outside_range(self.x, *RANGES[kind]),
            "flatline": flatline(self.t, self.x, self.known, kind == "icp"),
            "negative": negative(self.t, self.x, self.known) if kind == "icp" else [],
        }
        self.blanks = blank_stretches(self.t, times[blank], start, end, gap)

    def known_with(self, rules):
        return without(self.known, [span for rule in rules for span in self.spans.get(rule, [])])


def cpp_samples(times, icp, map_):
    """CPP at every time of either channel, without the last bits that binary subtraction leaves."""
    some = ~(icp.blank & map_.blank)
    t = times[some]
    x = np.round(np.interp(t, map_.t, map_.x) - np.interp(t, icp.t, icp.x), 10)
    at = [(np.cumsum(~c.blank) - 1)[some][:-1] for c in (icp, map_)]

    def known_with(icp_known, map_known):
        known = np.ones(len(t) - 1, bool)
        for k, i in zip((icp_known, map_known), at):
            known &= np.append(k, False)[i] & (i >= 0)
        return known

    return t, x, known_with


def five_minute_means(area, known):
    """Mean of the 5 min from each minute on; NaN where under half is known."""
    area5 = sum(area[k : len(area) - 4 + k] for k in range(5))
    known5 = sum(known[k : len(known) - 4 + k] for k in range(5))
    return np.divide(area5, known5, out=np.full(len(area5), np.nan), where=known5 >= 2.5 * MINUTE)


def best_in(means, start, end, pick):
    part = means[int(np.ceil(start / MINUTE)) : max(0, int(end // MINUTE) - 4)]
    part = part[~np.isnan(part)]
    return float(pick(part)) if len(part) else None


def icp_measures(p):
    return {
        "area": p.area,
        "hoursBelowBand": p.below(5),
        "hoursWithinBand": p.within(5, 15, True),
        "hoursAboveBand": p.above(15),
        "hoursAboveThreshold": p.above(THRESHOLD),
        "doseMmHgHours": p.dose_above(THRESHOLD),
    }


def cpp_measures(p):
    return {
        "area": p.area,
        "hoursBelowFloor": p.below(FLOOR),
        "doseBelowFloorMmHgHours": p.dose_below(FLOOR),
        "band0": p.below(50),
        "band1": p.within(50, 60, False),
        "band2": p.within(60, 70, True),
        "band3": p.above(70),
    }


def shaped(sums, ms, median, extreme, kind):
    """The figures of one window in the form of results.json."""
    none = ms == 0
    figures = {k: None if none else v / HOUR for k, v in sums.items() if k != "area" and not k.startswith("band")}
    figures["meanMmHg"] = None if none else sums["area"] / ms
    if kind == "icp":
        figures["medianMmHg"] = None if none else float(median)
        figures["highest5MinMmHg"] = None if none else extreme
        return figures
    figures["lowest5MinMmHg"] = None if none else extreme
    figures["bands"] = [None if none else sums[f"band{k}"] / HOUR for k in range(4)]
    return figures


class Patient:
    def __init__(self, path):
        with open(path, "rb") as file:
            data = file.read()
        self.sha256 = hashlib.sha256(data).hexdigest()
        rows = pd.read_csv(io.BytesIO(data), engine="c", parse_dates=["Time"], dtype={1: float, 2: float})
        self.id = os.path.basename(path)[: -len(".csv")]
        ms = rows["Time"].to_numpy().view("int64") // 1_000_000
        # An hour before the first, so that windows may begin before the data.
        self.base = int(ms[0] // HOUR * HOUR - HOUR)
        self.t = t = (ms - self.base).astype(float)
        self.start, self.end = float(t[0]), float(t[-1])
        self.hours_count = int(self.end // HOUR) + 2
        self.icp = Channel("icp", t, rows.iloc[:, 1].to_numpy(), self.start, self.end)
        self.map = Channel("map", t, rows.iloc[:, 2].to_numpy(), self.start, self.end)

    def time(self, t):
        return str(np.datetime64(int(np.floor(t + self.base + 500)) // 1000, "s")) + "+00:00"

    def window_edges(self):
        hours = [(max(h * HOUR, self.start), min((h + 1) * HOUR, self.end)) for h in range(1, self.hours_count)]
        day = 24 * HOUR
        first = int((self.base + self.start) // day) - 1
        nights = [(d * day + 19 * HOUR - self.base, d * day + 31 * HOUR - self.base) for d in range(first, first + 2 + self.hours_count // 24 + 2)]
        inside = [(a, b) for a, b in hours if a < b]
        return inside, [(a, b) for a, b in nights if a < self.end and self.start < b]

    def figures(self):
        icp, map_ = self.icp, self.map
        cells = self.hours_count * 60
        t, x, cpp_known = cpp_samples(self.t, icp, map_)
        p_icp, p_cpp = Pieces(icp.t, icp.x, cells), Pieces(t, x, cells)
        m_icp, m_cpp = icp_measures(p_icp), cpp_measures(p_cpp)
        ranked = Ranked(p_icp)

        def masks(rules):
            i, m = icp.known_with(rules), map_.known_with(rules)
            return i, m, cpp_known(i, m)

        readings = {"": masks((*REMOVED, "negative")), "Raw": masks(()), "OtherWay": masks(REMOVED)}
        out = {"id": self.id, "sha256": self.sha256, "start": self.time(self.start), "end": self.time(self.end)}
        hours, nights = self.window_edges()
        for name, (known_icp, known_map, known_cpp) in readings.items():
            if name == "OtherWay" and not icp.spans["negative"]:
                out["icpOtherWay"] = out["cppOtherWay"] = None
                continue
            known = {"icp": p_icp.spread(known_icp), "cpp": p_cpp.spread(known_cpp)}
            means = {}
            for kind, p in (("icp", p_icp), ("cpp", p_cpp)):
                means[kind] = five_minute_means(p.by_minute(p.area, known[kind]), p.by_minute(p.width, known[kind]))
            if name == "":
                windows = self.windows(p_icp, p_cpp, m_icp, m_cpp, known, known_map, ranked, means, hours, nights)
                main, out["hours"], out["nights"] = windows
                out |= {k: main[k] for k in ("monitoredHours", "icp", "cpp")}
                continue
            for kind, p, measures, pick in (("icp", p_icp, m_icp, np.max), ("cpp", p_cpp, m_cpp, np.min)):
                k = known[kind]
                sums = {key: float(v[k].sum()) for key, v in measures.items()}
                median = ranked.medians(*ranked.whole(k))[0] if kind == "icp" else None
                extreme = best_in(means[kind], self.start, self.end, pick)
                out[kind + name] = shaped(sums, float(p.width[k].sum()), median, extreme, kind)
        out["episodes"] = self.episodes(readings[""][0], t, x, readings[""][2])
        for window in (*out["hours"], *out["nights"]):
            a, b = window.pop("edges")
            lengths = [e["minutes"] for e in out["episodes"] if e["edges"][0] < b and a < e["edges"][1]]
            window |= {"episodes": len(lengths), "longestEpisodeMinutes": max(lengths, default=None)}
        for episode in out["episodes"]:
            del episode["edges"]
        out["removed"] = self.removed()
        out["takes"] = self.takes(masks, p_icp, p_cpp, m_icp, m_cpp)
        return out

    def windows(self, p_icp, p_cpp, m_icp, m_cpp, known, known_map, ranked, means, hours, nights):
        """The period, its hours and the nights, all as sums of whole hours of the clock."""
        icp = {"width": p_icp.by_hour(p_icp.width, known["icp"])}
        icp |= {key: p_icp.by_hour(v, known["icp"]) for key, v in m_icp.items()}
        cpp = {"width": p_cpp.by_hour(p_cpp.width, known["cpp"])}
        cpp |= {key: p_cpp.by_hour(v, known["cpp"]) for key, v in m_cpp.items()}
        p_map = Pieces(self.map.t, self.map.x, self.hours_count * 60)
        map_width = p_map.by_hour(p_map.width, p_map.spread(known_map))
        atoms, slopes = ranked.by_hour(known["icp"])
        edges = [(self.start, self.end), *hours, *nights]
        spans = [(int(max(0, a) // HOUR), int(-(-b // HOUR))) for a, b in edges]
        medians = ranked.medians(
            np.array([atoms[a:b].sum(axis=0) for a, b in spans]), np.array([slopes[a:b].sum(axis=0) for a, b in spans])
        )
        found = []
        for (start, end), (a, b), median in zip(edges, spans, medians):
            sums_icp = {key: float(v[a:b].sum()) for key, v in icp.items()}
            sums_cpp = {key: float(v[a:b].sum()) for key, v in cpp.items()}
            ms_icp, ms_cpp = sums_icp.pop("width"), sums_cpp.pop("width")
            monitored = {"icp": ms_icp / HOUR, "map": float(map_width[a:b].sum()) / HOUR, "cpp": ms_cpp / HOUR}
            found.append(
                {
                    "edges": (start, end),
                    "start": self.time(start),
                    "end": self.time(end),
                    "monitoredHours": monitored,
                    "icp": shaped(sums_icp, ms_icp, median, best_in(means["icp"], max(start, 0), end, np.max), "icp"),
                    "cpp": shaped(sums_cpp, ms_cpp, None, best_in(means["cpp"], max(start, 0), end, np.min), "cpp"),
                }
            )
        return found[0], found[1 : 1 + len(hours)], found[1 + len(hours) :]

    def episodes(self, known_icp, cpp_t, cpp_x, known_cpp):
        found = []
        for start, end, open_start, open_end in find_episodes(self.icp.t, self.icp.x, known_icp):
            t0, x0, t1, x1 = cut(self.icp.t, self.icp.x, known_icp, start, end)
            width, low, high = t1 - t0, np.minimum(x0, x1) - THRESHOLD, np.maximum(x0, x1) - THRESHOLD
            rise = np.where(high > low, high - low, 1)
            over = np.where(low >= 0, (low + high) / 2 * width, np.maximum(high, 0) ** 2 * width / (2 * rise))
            _, y0, _, y1 = cut(cpp_t, cpp_x, known_cpp, start, end)
            found.append(
                {
                    "edges": (start, end),
                    "start": self.time(start),
                    "end": self.time(end),
                    "minutes": (end - start) / MINUTE,
                    "highestMmHg": float(max(x0.max(), x1.max())),
                    "meanMmHg": float(((x0 + x1) / 2 * width).sum() / width.sum()),
                    "doseMmHgHours": float(over.sum()) / HOUR,
                    "lowestCppMmHg": float(min(y0.min(), y1.min())) if len(y0) else None,
                    "openStart": open_start,
                    "openEnd": open_end,
                }
            )
        return found

    def removed(self):
        marks = []
        for kind, channel in (("icp", self.icp), ("map", self.map)):
            for rule, spans in channel.spans.items():
                marks += [(kind, rule, self.time(channel.t[a]), self.time(channel.t[b])) for a, b in spans]
            marks += [(kind, "disconnected", self.time(a + 1), self.time(b - 1)) for a, b in channel.blanks]
        return [dict(zip(("channel", "rule", "start", "end"), mark)) for mark in marks]

    def takes(self, masks, p_icp, p_cpp, m_icp, m_cpp):
        """What each rule took, each second for the first rule, and the burden with the rule left out."""
        rules = (*REMOVED, "negative")
        without_rule = {}
        for rule in rules:
            known_icp, _, known_cpp = masks([r for r in rules if r != rule])
            i, c = p_icp.spread(known_icp), p_cpp.spread(known_cpp)
            without_rule[rule] = {
                "icpHoursAboveThreshold": float(m_icp["hoursAboveThreshold"][i].sum()) / HOUR,
                "icpDoseMmHgHours": float(m_icp["doseMmHgHours"][i].sum()) / HOUR,
                "cppHoursBelowFloor": float(m_cpp["hoursBelowFloor"][c].sum()) / HOUR,
                "cppDoseBelowFloorMmHgHours": float(m_cpp["doseBelowFloorMmHgHours"][c].sum()) / HOUR,
            }
        found = []
        for kind, channel in (("icp", self.icp), ("map", self.map)):
            left, width, so_far = channel.known, np.diff(channel.t), []
            for rule in rules:
                if rule == "disconnected":
                    count, ms = len(channel.blanks), sum(b - a - 2 for a, b in channel.blanks)
                else:
                    so_far.append(rule)
                    count, rest = len(channel.spans[rule]), channel.known_with(so_far)
                    ms, left = float(width[left & ~rest].sum()), rest
                if count > 0:
                    take = {"channel": kind, "rule": rule, "intervals": count, "hours": ms / HOUR}
                    found.append(take | {"without": without_rule[rule]})
        return found


def cut(t, x, known, start, end):
    """Known pieces inside a window, the outer ones cut at its ends."""
    a, b = max(0, np.searchsorted(t, start, "right") - 1), np.searchsorted(t, end, "left")
    k = a + np.flatnonzero(known[a:b])
    t0, t1, x0, x1 = t[k], t[k + 1], x[k], x[k + 1]
    from_, to, slope = np.maximum(t0, start), np.minimum(t1, end), (x1 - x0) / (t1 - t0)
    return from_, x0 + slope * (from_ - t0), to, np.where(to == t1, x1, x0 + slope * (to - t0))
