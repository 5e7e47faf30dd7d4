import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { DEFAULT_MISSING } from '../../../src/ingest/settings.js';
import type { AlarmRow } from '../../../src/ingest/tables/alarm-log.js';
import type { CareRow } from '../../../src/ingest/tables/care-log.js';
import type { CohortRow } from '../../../src/ingest/tables/cohort.js';
import type { Happened, MomentOrMonths } from '../../../src/ingest/tables/describe.js';
import { readTable } from '../../../src/ingest/tables/read-table.js';
import { recogniseTableFile } from '../../../src/ingest/tables/recognise-table.js';
import type { Stay } from '../../../src/ingest/tables/stay.js';
import { ZoneClock } from '../../../src/recording/zone.js';
import { asides } from './support.js';

const LOGS = fileURLToPath(new URL('../../../fixtures/exports/logs', import.meta.url));
const clock = new ZoneClock('Europe/Oslo');
const names = readdirSync(LOGS).filter((name) => name.endsWith('.csv'));

const time = (utcMs: number | null): string | null => (utcMs === null ? null : clock.format(utcMs));
const rounded = (value: number | null): number | null => (value === null ? null : Number(value.toFixed(4)));

function moment(value: MomentOrMonths | null): unknown {
  if (value === null || 'months' in value) return value;
  return value.isDay ? clock.format(value.utcMs).slice(0, 10) : clock.format(value.utcMs);
}
const happened = (value: Happened | null): unknown => value && { ...value, at: moment(value.at) };

/** Rows as the files of expected readings write them, by kind. */
const shown = {
  alarms: ({ line, patient, bed, parameter, limit, side, priority, message, ...row }: AlarmRow) => ({
    ...{
      line,
      patient,
      bed,
      channel: parameter.channel,
      limit: rounded(limit?.value ?? null),
      side,
      priority,
    },
    ...{
      onset: time(row.onsetUtcMs),
      acknowledged: time(row.acknowledgedUtcMs),
      ended: time(row.endedUtcMs),
      message,
    },
  }),
  care: ({ line, patient, bed, startUtcMs, endUtcMs, kind, also, angleDegrees, treatment }: CareRow) => ({
    ...{
      line,
      patient,
      bed,
      start: time(startUtcMs),
      end: time(endUtcMs),
      kind,
      also,
      angleDegrees,
      treatment,
    },
  }),
  occupancy: ({ line, patient, bed, unit, fromUtcMs, toUtcMs }: Stay) => ({
    ...{ line, patient, bed, unit, from: time(fromUtcMs), to: time(toUtcMs) },
  }),
  cohort: ({ file: _, ...row }: CohortRow) => ({
    ...row,
    sbpMmHg: rounded(row.sbpMmHg),
    injury: moment(row.injury),
    admission: moment(row.admission),
    monitoringFrom: moment(row.monitoringFrom),
    monitoringTo: moment(row.monitoringTo),
    craniectomy: happened(row.craniectomy),
    withdrawn: happened(row.withdrawn),
    brainDeath: happened(row.brainDeath),
    death: happened(row.death),
    assessed: moment(row.assessed),
  }),
} as const;

describe('the invented logs of Lantern Bay', () => {
  test('are eight: each kind in two dialects', () => {
    expect(names).toHaveLength(8);
  });

  test.each(names)('%s reads as it is written down beside it', async (name) => {
    const expected = JSON.parse(readFileSync(join(LOGS, name.replace('.csv', '.expected.json')), 'utf8'));
    const file = { path: join(LOGS, name), name };
    const kind = await recogniseTableFile(file);
    expect(kind).toBe(expected.kind);
    if (!kind) return;
    const table = await readTable(kind, file, { zone: clock.zone, missing: DEFAULT_MISSING });
    if (kind === 'targets') throw new Error('none of these logs is a table of targets');
    const show = shown[kind] as (row: unknown) => unknown;
    expect(table.rows.map(show)).toEqual(expected.rows);
    expect(asides(table)).toEqual(expected.setAside);
    expect(table.warnings).toEqual(expected.warnings);
    expect(table.rowsRead).toBe(expected.rowsRead);
    expect(table.encoding).toBe(expected.encoding ?? 'utf-8');
  });
});
