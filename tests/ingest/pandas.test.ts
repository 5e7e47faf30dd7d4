import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { findExports } from '../../src/ingest/find-exports.js';
import { groupByPatient } from '../../src/ingest/group-files.js';
import { ingestGroup } from '../../src/ingest/ingest.js';
import { DEFAULT_MISSING, type IngestSettings } from '../../src/ingest/settings.js';
import type { ChannelKind } from '../../src/recording/channel.js';
import { rawSignal } from '../../src/recording/recording.js';
import { settingsWith } from './support.js';

/**
 * Outside check: the same files read by pandas of Debian (package python3-pandas; 1.5.3 when this was written), with
 * what it has to be told of each file written here by hand. Times: whole milliseconds, exact. Values: read with
 * float_precision="round_trip", the nearest double, so they have to be equal to the last bit.
 */
const READ_WITH_PANDAS = `
import json, sys
import pandas as pd

def instants(frame, how):
    column = frame[how["time"]]
    if "epochUnit" in how:
        return (column * {"s": 1000, "ms": 1}[how["epochUnit"]]).round().astype("int64").tolist()
    text = column.astype(str).str.strip()
    if "date" in how:
        text = frame[how["date"]].astype(str).str.strip() + " " + text
    times = pd.to_datetime(text, dayfirst=how.get("dayFirst", False), format=how.get("format"),
                           utc=True if how.get("hasOffset") else None)
    if times.dt.tz is None:
        times = times.dt.tz_localize(how.get("zone", "UTC"), ambiguous="infer")
    return (times.dt.tz_convert("UTC").astype("int64") // 1_000_000).tolist()

def read(how):
    frame = pd.read_csv(how["path"], sep=how.get("sep", ","), decimal=how.get("decimal", "."),
                        encoding=how.get("encoding", "utf-8"), compression="infer",
                        skiprows=how.get("skipRows", 0), skipfooter=how.get("skipFooter", 0),
                        engine="python" if how.get("skipFooter") else "c", skipinitialspace=True,
                        na_values=how.get("missing", []),
                        **({} if how.get("skipFooter") else {"float_precision": "round_trip"}))
    frame.columns = [str(name).strip() for name in frame.columns]
    at = instants(frame, how)
    channels = {}
    for kind, header in how["channels"].items():
        values = pd.to_numeric(frame[header])
        channels[kind] = [[t, v] for t, v in zip(at, values.tolist()) if v == v]
    return channels

request = json.load(sys.stdin)
print(json.dumps({"pandas": pd.__version__, "files": [read(how) for how in request]}))
`;

const CASES = fileURLToPath(new URL('../../fixtures/exports/cases/', import.meta.url));

interface How {
  readonly time: string;
  readonly date?: string;
  readonly channels: Readonly<Partial<Record<ChannelKind, string>>>;
  readonly sep?: string;
  readonly decimal?: string;
  readonly encoding?: string;
  /** Lines not to read, from 0: so many at the top, or these. */
  readonly skipRows?: number | readonly number[];
  readonly skipFooter?: number;
  readonly dayFirst?: boolean;
  readonly format?: string;
  readonly zone?: string;
  readonly hasOffset?: boolean;
  readonly epochUnit?: 's' | 'ms';
  readonly missing?: readonly string[];
}

const TWO = { icp: 'ICP (mmHg)', map: 'ABP mean (mmHg)' };
const SHORT = { icp: 'ICP (mmHg)', map: 'MAP (mmHg)' };
const BARE = { icp: 'ICP', map: 'ABP mean' };
const WARM = { icp: 'ICP (mmHg)', temp: 'Temp (°C)' };
const POINTED = { sep: ';', dayFirst: true } as const;
const OSLO = { zone: 'Europe/Oslo' } as const;

/** What pandas has to be told of each file. */
const HOW: Readonly<Record<string, How>> = {
  'wide-comma': { time: 'Time', channels: TWO },
  'wide-semicolon-decimal-comma': { time: 'Time', channels: TWO, ...POINTED, decimal: ',' },
  'wide-tab': { time: 'Time', channels: TWO, sep: '\t' },
  'wide-pipe': { time: 'Time', channels: TWO, sep: '|' },
  'wide-comma-decimal-comma-quoted': { time: 'Time', channels: TWO, decimal: ',', dayFirst: true },
  'tab-decimal-comma': { time: 'Time', channels: TWO, sep: '\t', decimal: ',', dayFirst: true },
  'separator-line': { time: 'Time', channels: TWO, sep: ';', skipRows: 1 },
  'preamble-three-lines': { time: 'Time', channels: TWO, skipRows: 3 },
  'preamble-twelve-lines': { time: 'Time', channels: TWO, skipRows: 12 },
  'header-of-two-rows': { time: 'Time', channels: BARE, skipRows: [1] },
  footer: { time: 'Time', channels: TWO, skipFooter: 2 },
  'all-quoted': { time: 'Time', channels: TWO },
  'padded-cells': { time: 'Time', channels: TWO },
  'utf-8': { time: 'Time', channels: WARM },
  'utf-8-marked': { time: 'Time', channels: WARM, encoding: 'utf-8-sig' },
  'utf-16-little-endian': { time: 'Time', channels: WARM, sep: '\t', encoding: 'utf-16' },
  'utf-16-big-endian': { time: 'Time', channels: WARM, sep: '\t', encoding: 'utf-16' },
  'windows-1252': { time: 'Time', channels: WARM, encoding: 'cp1252' },
  'line-breaks-crlf': { time: 'Time', channels: WARM },
  'line-breaks-cr': { time: 'Time', channels: WARM },
  gzip: { time: 'Time', channels: WARM },
  'gzip-utf-16': { time: 'Time', channels: WARM, sep: '\t', encoding: 'utf-16' },
  'time-local-of-zone': { time: 'Time', channels: SHORT, ...OSLO },
  'time-with-offset': { time: 'Timestamp', channels: SHORT, hasOffset: true },
  'time-utc-with-milliseconds': { time: 'Timestamp', channels: SHORT, hasOffset: true },
  'date-and-time-apart': { time: 'Time', date: 'Date', channels: SHORT, sep: ';' },
  'date-and-time-apart-german': {
    time: 'Uhrzeit',
    date: 'Datum',
    channels: SHORT,
    ...POINTED,
    zone: 'Europe/Berlin',
  },
  'time-compact': { time: 'Time', channels: SHORT, format: '%Y%m%d%H%M%S' },
  'months-english': { time: 'Time', channels: SHORT, format: '%d-%b-%Y %H:%M:%S' },
  'epoch-seconds': { time: 'Time', channels: SHORT, epochUnit: 's' },
  'epoch-milliseconds': { time: 'Timestamp', channels: SHORT, epochUnit: 'ms' },
  'day-first-settled-late': { time: 'Zeit', channels: SHORT, ...POINTED, format: '%d.%m.%Y %H:%M:%S' },
  'month-first-am-pm': { time: 'Time', channels: SHORT, format: '%m/%d/%Y %I:%M:%S %p' },
  'day-first-declared': { time: 'Time', channels: SHORT, dayFirst: true },
  'autumn-with-offset': { time: 'Time', channels: SHORT, hasOffset: true },
  'autumn-without-offset': { time: 'Time', channels: SHORT, ...OSLO },
  'spring-skipped-hour': { time: 'Time', channels: SHORT, ...OSLO },
  'mixed-rates': { time: 'Time', channels: { ...SHORT, hr: 'HR (bpm)' } },
  'sentinel-listed': { time: 'Time', channels: SHORT, missing: ['-999'] },
  'same-time-agreeing': { time: 'Time', channels: SHORT },
};

/** Cases whose rows of the same time are one to our reader; pandas keeps both. */
const REPEATED = new Set(['same-time-agreeing']);

type Samples = Partial<Record<ChannelKind, [number, number][]>>;

/** Runs pandas on all files at once; fails loudly where it is missing. */
function readWithPandas(requests: readonly unknown[]): { pandas: string; files: Samples[] } {
  const python = ['/usr/bin/python3', 'python3'].find(
    (command) => spawnSync(command, ['-c', 'import pandas']).status === 0,
  );
  if (!python) {
    throw new Error(
      'No python3 with pandas is here, and this outside check needs it: install python3-pandas.',
    );
  }
  const { status, stdout, stderr } = spawnSync(python, ['-c', READ_WITH_PANDAS], {
    input: JSON.stringify(requests),
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  if (status !== 0) throw new Error(`pandas failed: ${stderr}`);
  return JSON.parse(stdout);
}

const exportIn = (name: string): string => {
  const [file, ...others] = readdirSync(CASES + name).filter((entry) => /\.csv(\.gz)?$/.test(entry));
  expect(others, name).toEqual([]);
  return `${CASES}${name}/${file}`;
};

async function readHere(name: string, { zone = 'UTC', missing = [], dayFirst }: How): Promise<Samples> {
  const order = name === 'day-first-declared' && dayFirst ? { time: { order: 'dayFirst' as const } } : {};
  const settings: IngestSettings = settingsWith({
    zone,
    columns: order,
    missing: [...DEFAULT_MISSING, ...missing],
  });
  const { groups } = groupByPatient(await findExports([exportIn(name)], CASES), settings);
  const [{ recording, problem }] = await ingestGroup(groups[0], settings);
  if (!recording) throw new Error(`${name}: ${problem}`);
  const channels = Object.values(recording.channels).map(({ kind }): [ChannelKind, [number, number][]] => {
    const { times, values } = rawSignal(recording, kind);
    return [kind, [...times].map((t, i) => [t, values[i]])];
  });
  return Object.fromEntries(channels);
}

const byName = Object.entries(HOW);
const withoutRepeats = (samples: readonly [number, number][]): [number, number][] =>
  samples.filter(([time], i) => i === 0 || time !== samples[i - 1][0]);

describe('pandas', () => {
  const outside = readWithPandas(byName.map(([name, how]) => ({ ...how, path: exportIn(name) })));

  test('reads a dozen files and more', () => {
    expect(byName.length).toBeGreaterThanOrEqual(12);
    expect(outside.pandas).toMatch(/^\d+\.\d+/);
  });

  test.each(byName.map(([name], i) => [name, i] as const))('reads %s as we do', async (name, i) => {
    const theirs = Object.entries(outside.files[i]).map(([kind, samples]) => [
      kind,
      REPEATED.has(name) ? withoutRepeats(samples) : samples,
    ]);
    const ours = await readHere(name, HOW[name]);
    expect(ours).toEqual(Object.fromEntries(theirs));
  });
});
