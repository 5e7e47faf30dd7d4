import { describe, expect, it } from 'vitest';
import type { IngestSettings } from '../../src/ingest/settings.js';
import { ingestFiles, ingestOne } from './support.js';

const ROWS = `Time,ICP (mmHg),MAP (mmHg)
2031-02-11 19:00:00,10,80
2031-02-11 19:00:10,11,81
2031-02-11 19:00:20,12,
2031-02-11 19:00:30,13,83
`;
const NO_MAP = ROWS.replace('MAP (mmHg)', 'ABP sys (mmHg),ABP dia (mmHg)').replace(/,8(\d)$/gm, ',12$1,8$1');
const AT = Date.UTC(2031, 1, 11, 19);

/** Seconds after 19:00 of each sample of the channels, after reading with these shifts. */
async function shifted(columns: IngestSettings['columns'], text = ROWS) {
  const { recording, warnings, rowsRead, setAside } = await ingestOne(text, { columns });
  const channels = Object.values(recording?.channels ?? {}).map(({ kind, signal, shiftSeconds }) => [
    kind,
    Array.from(signal.times, (t) => (t - AT) / 1000),
    shiftSeconds,
  ]);
  const { start, end } = recording?.extent ?? { start: 0, end: 0 };
  return {
    channels,
    warnings,
    rows: [rowsRead, setAside.length],
    extent: [(start - AT) / 1000, (end - AT) / 1000],
  };
}

describe('a channel whose clock is apart', () => {
  it('has its times moved, the others stay, and that is said', async () => {
    const { channels, warnings, rows, extent } = await shifted({ map: { shiftSeconds: 40 } });
    expect(channels).toEqual([
      ['icp', [0, 10, 20, 30], undefined],
      ['map', [40, 50, 70], 40],
    ]);
    expect(warnings).toEqual([
      'The times of MAP were moved by 40 s, to later ones, as the pipeline file says.',
    ]);
    expect(rows).toEqual([4, 0]);
    expect(extent).toEqual([0, 70]);
  });
  it('may be moved to earlier times, by parts of a second too', async () => {
    const { channels, warnings, extent } = await shifted({
      map: { header: 'MAP (mmHg)', shiftSeconds: -2.5 },
    });
    expect(channels[1]).toEqual(['map', [-2.5, 7.5, 27.5], -2.5]);
    expect(warnings[0]).toContain('moved by 2.5 s, to earlier ones');
    expect(extent).toEqual([-2.5, 30]);
  });
  it('keeps its values and what is known between them', async () => {
    const plain = await ingestOne(ROWS);
    const moved = await ingestOne(ROWS, { columns: { map: { shiftSeconds: 40 } } });
    const [a, b] = [plain, moved].map(({ recording }) => recording!.channels.map!);
    expect(b.signal.values).toEqual(a.signal.values);
    expect(b.signal.known).toEqual(a.signal.known);
    expect(b.nominalIntervalMs).toBe(a.nominalIntervalMs);
  });
  it('is a MAP too that is derived, once', async () => {
    const { channels } = await shifted({ map: { shiftSeconds: 40 } }, NO_MAP);
    expect(channels.find(([kind]) => kind === 'map')).toEqual(['map', [40, 50, 70], 40]);
    const both = await shifted({ sbp: { shiftSeconds: 5 }, dbp: { shiftSeconds: 5 } }, NO_MAP);
    expect(both.channels.find(([kind]) => kind === 'map')).toEqual(['map', [5, 15, 35], undefined]);
    expect(both.warnings.filter((one) => one.startsWith('The times of'))).toHaveLength(2);
  });
  it('is joined from its files before it is moved', async () => {
    const files = {
      'p7-a.csv': 'Time,ICP (mmHg)\n2031-02-11 19:00:00,10\n2031-02-11 19:00:10,11\n',
      'p7-b.csv': 'Time,MAP (mmHg)\n2031-02-11 18:59:20,80\n2031-02-11 18:59:30,81\n',
    };
    const [{ recording }] = await ingestFiles(files, {
      patient: { fileName: '^p(\\d+)' },
      columns: { map: { shiftSeconds: 40 } },
    });
    expect(recording?.channels.map?.signal.times).toEqual(recording?.channels.icp?.signal.times);
  });
});
