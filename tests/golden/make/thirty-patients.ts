import type { Bump, Series } from './series.js';
import { type CaseFiles, files, OSLO, unit } from './unit-files.js';

export function thirtyPatients(): CaseFiles {
  const ids = Array.from({ length: 30 }, (_, i) => String(i + 1));
  const dataless = new Set(['7', '15', '23']);
  const failing: CaseFiles = {
    'exports/11.csv': 'Time,HR (1/min)\n2031-04-02 02:00:00,80\n2031-04-02 02:05:00,81\n',
    'exports/19.csv': 'Time,ICP (mmHg)\nyesterday,12\ntoday,13\n',
  };
  const series = ids
    .filter((id) => !dataless.has(id) && !(`exports/${id}.csv` in failing))
    .map((id, i): Series => {
      const bumps: Bump[] = i % 4 === 1 ? [{ at: 60 + i, minutes: 60, mmHg: 13 + (i % 5), flank: 0.3 }] : [];
      return {
        id,
        zone: OSLO,
        start: '2031-04-02T01:00:00+02:00',
        hours: 6,
        everySeconds: i % 3 === 0 ? 60 : 300,
        icp: { level: 8 + (i % 7), bumps },
        ...(i % 6 === 5 ? {} : { map: { level: 76 + (i % 11) } }),
        ...(i % 9 === 8 ? { blank: [{ of: 'icp' as const, from: 30, to: 330 }] } : {}),
      };
    });
  return {
    'unit.yaml': unit(
      `period: {from: "2031-04-02 01:00", to: "2031-04-02 07:00"}\nexpected: [${ids.map((id) => `"${id}"`).join(', ')}]\n`,
    ),
    ...files(series),
    ...failing,
  };
}
