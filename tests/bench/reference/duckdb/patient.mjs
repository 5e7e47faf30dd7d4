import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import {
  BITS,
  blanksSql,
  CHANNEL_BITS,
  cppSql,
  GAP_BIT,
  piecesSql,
  readSql,
  samplesSql,
  spansSql,
} from './channel-sql.mjs';
import { findEpisodes, THRESHOLD } from './episodes.mjs';
import {
  crossingsSql,
  cutSql,
  episodesSql,
  fiveMinutesSql,
  mediansSql,
  minutesSql,
  valuesSql,
  windowSumsSql,
} from './measures-sql.mjs';

const HOUR = 3_600_000;
const MINUTE = 60_000;
const DAY = 24 * HOUR;
const RULES = ['outsideRange', 'disconnected', 'flatline', 'negative'];

/** The bits that make a piece unknown where these rules are on. */
const maskOf = (rules) => rules.reduce((mask, rule) => mask | (BITS[rule] ?? 0), GAP_BIT);
const cppMask = (mask) => mask | (mask * CHANNEL_BITS);

/** All figures of one patient's export, in the form of results.json. */
export async function patientFigures(connection, path) {
  const rowsOf = async (sql) => (await connection.runAndReadAll(sql)).getRowObjectsJS();
  const run = (sql) => connection.run(sql);

  await run(readSql(path));
  const sha256 = createHash('sha256').update(readFileSync(path)).digest('hex');
  const [{ base, start, end }] = await rowsOf(
    `SELECT getvariable('base')::DOUBLE AS base, min(t) AS start, max(t) AS "end" FROM export`,
  );
  const time = (t) =>
    `${new Date(Math.floor((t + base + 500) / 1000) * 1000).toISOString().slice(0, 19)}+00:00`;
  const marks = {};
  for (const kind of ['icp', 'map']) {
    await run(samplesSql(kind));
    await run(spansSql(kind));
    const spans = await rowsOf(`SELECT rule, t, t1 FROM ${kind}_spans ORDER BY t`);
    const blanks = await rowsOf(blanksSql(kind));
    marks[kind] = [...spans, ...blanks.map(({ t, t1 }) => ({ rule: 'disconnected', t: t + 1, t1: t1 - 1 }))];
    await run(piecesSql(kind));
  }
  await run(cppSql);
  for (const kind of ['icp', 'map', 'cpp']) {
    await run(cutSql(kind));
    await run(minutesSql(kind));
  }
  await run(valuesSql);

  const hasNegative = marks.icp.some(({ rule }) => rule === 'negative');
  const windows = windowsOf(base, start, end);
  const values = windows.map(
    ({ what, start: from, end: to, mask: m }, id) =>
      `(${id}, ${from / MINUTE}::DOUBLE, ${to / MINUTE}::DOUBLE, ${m}, ${m}, ${cppMask(m)}, ${!/ /.test(what)})`,
  );
  await run(`CREATE OR REPLACE TEMP TABLE windows AS
    FROM (VALUES ${values.join(', ')}) AS w(id, start, "end", icp_mask, map_mask, cpp_mask, has_extreme)`);
  const sums = {};
  for (const kind of ['icp', 'map', 'cpp']) sums[kind] = await rowsOf(windowSumsSql(kind));
  const highest = await rowsOf(fiveMinutesSql('icp', 'max'));
  const lowest = await rowsOf(fiveMinutesSql('cpp', 'min'));
  const medians = new Map((await rowsOf(mediansSql)).map(({ id, median }) => [id, median]));

  const mask = maskOf(RULES);
  const found = findEpisodes(await rowsOf(crossingsSql(mask, THRESHOLD)));
  const episodes = found.length === 0 ? [] : await episodeFigures(found, mask, run, rowsOf, time);
  const shaped = windows.map((window, id) => {
    const here = found.filter((episode) => episode.start < window.end && window.start < episode.end);
    return {
      start: time(window.start),
      end: time(window.end),
      monitoredHours: Object.fromEntries(
        Object.entries(sums).map(([kind, rows]) => [kind, rows[id].width / HOUR]),
      ),
      icp: icpShape(sums.icp[id], medians.get(id), highest[id].mean),
      cpp: cppShape(sums.cpp[id], lowest[id].mean),
      episodes: here.length,
      longestEpisodeMinutes:
        here.length === 0 ? null : Math.max(...here.map((e) => e.end - e.start)) / MINUTE,
    };
  });
  const of = (what) => shaped.filter((_, id) => windows[id].what === what);
  const [period] = of('period');
  const [raw] = of('raw');
  const [otherWay] = hasNegative ? of('otherWay') : [{ icp: null, cpp: null }];
  return {
    id: basename(path, '.csv'),
    sha256,
    start: time(start),
    end: time(end),
    monitoredHours: period.monitoredHours,
    icp: period.icp,
    icpRaw: raw.icp,
    icpOtherWay: otherWay.icp,
    cpp: period.cpp,
    cppRaw: raw.cpp,
    cppOtherWay: otherWay.cpp,
    hours: of('hour'),
    nights: of('night'),
    episodes,
    removed: Object.entries(marks).flatMap(([channel, list]) =>
      list.map(({ rule, t, t1 }) => ({ channel, rule, start: time(t), end: time(t1) })),
    ),
    takes: takesOf(marks, windows, sums),
  };
}

/**
 * The period in each reading and with each rule left out or added in turn, its hours, and the nights. Those with a space
 * in their names are for sums alone.
 */
function windowsOf(base, start, end) {
  const all = maskOf(RULES);
  const whole = (what, mask) => ({ what, start, end, mask });
  const windows = [
    whole('period', all),
    whole('raw', maskOf([])),
    whole('otherWay', maskOf(RULES.slice(0, 3))),
  ];
  RULES.forEach((rule, k) => {
    windows.push(whole(`without ${rule}`, maskOf(RULES.filter((one) => one !== rule))));
    windows.push(whole(`up to ${rule}`, maskOf(RULES.slice(0, k + 1))));
  });
  for (let hour = HOUR; hour < end; hour += HOUR) {
    const window = { what: 'hour', start: Math.max(hour, start), end: Math.min(hour + HOUR, end), mask: all };
    if (window.start < window.end) windows.push(window);
  }
  for (let day = Math.floor((base + start) / DAY) - 1; day * DAY <= base + end; day++) {
    const from = day * DAY + 19 * HOUR - base;
    if (from < end && start < from + 12 * HOUR)
      windows.push({ what: 'night', start: from, end: from + 12 * HOUR, mask: all });
  }
  return windows;
}

const hoursOf = (sums, names) => Object.fromEntries(names.map((name) => [name, sums[name] / HOUR]));
const orNull = (figures, isKnown) =>
  isKnown ? figures : Object.fromEntries(Object.keys(figures).map((name) => [name, null]));

const icpShape = (sums, medianMmHg, highest5MinMmHg) =>
  orNull(
    {
      ...hoursOf(sums, [
        'hoursBelowBand',
        'hoursWithinBand',
        'hoursAboveBand',
        'hoursAboveThreshold',
        'doseMmHgHours',
      ]),
      meanMmHg: sums.area / sums.width,
      medianMmHg,
      highest5MinMmHg,
    },
    sums.width > 0,
  );

function cppShape(sums, lowest5MinMmHg) {
  const isKnown = sums.width > 0;
  const bands = [0, 1, 2, 3].map((k) => (isKnown ? sums[`band${k}`] / HOUR : null));
  const figures = {
    ...hoursOf(sums, ['hoursBelowFloor', 'doseBelowFloorMmHgHours']),
    meanMmHg: sums.area / sums.width,
    lowest5MinMmHg,
  };
  return { ...orNull(figures, isKnown), bands };
}

async function episodeFigures(found, mask, run, rowsOf, time) {
  await run(`CREATE OR REPLACE TEMP TABLE episodes AS
    FROM (VALUES ${found.map((e, id) => `(${id}, ${e.start}::DOUBLE, ${e.end}::DOUBLE)`).join(', ')}) AS e(id, start, "end")`);
  const icp = await rowsOf(episodesSql('icp', mask, THRESHOLD));
  const cpp = new Map(
    (await rowsOf(episodesSql('cpp', cppMask(mask), THRESHOLD))).map(({ id, lowest }) => [id, lowest]),
  );
  return found.map(({ start, end, openStart, openEnd }, id) => ({
    start: time(start),
    end: time(end),
    minutes: (end - start) / MINUTE,
    highestMmHg: icp[id].highest,
    meanMmHg: icp[id].mean,
    doseMmHgHours: icp[id].dose / HOUR,
    lowestCppMmHg: cpp.get(id) ?? null,
    openStart,
    openEnd,
  }));
}

/** What each rule took, each second for the first rule, and the burden with the rule left out. */
function takesOf(marks, windows, sums) {
  const at = (what) => windows.findIndex((window) => window.what === what);
  return Object.entries(marks).flatMap(([channel, list]) =>
    RULES.flatMap((rule, k) => {
      const mine = list.filter((mark) => mark.rule === rule);
      if (mine.length === 0) return [];
      const before = sums[channel][at(k === 0 ? 'raw' : `up to ${RULES[k - 1]}`)].width;
      const ms =
        rule === 'disconnected'
          ? mine.reduce((sum, { t, t1 }) => sum + t1 - t, 0)
          : before - sums[channel][at(`up to ${rule}`)].width;
      const id = at(`without ${rule}`);
      const without = {
        icpHoursAboveThreshold: sums.icp[id].hoursAboveThreshold / HOUR,
        icpDoseMmHgHours: sums.icp[id].doseMmHgHours / HOUR,
        cppHoursBelowFloor: sums.cpp[id].hoursBelowFloor / HOUR,
        cppDoseBelowFloorMmHgHours: sums.cpp[id].doseBelowFloorMmHgHours / HOUR,
      };
      return [{ channel, rule, intervals: mine.length, hours: ms / HOUR, without }];
    }),
  );
}
