import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { folderWith } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';

const two = (n: number): string => String(n).padStart(2, '0');
const STAY = `Time,ICP (mmHg)\n${Array.from({ length: 40 }, (_, minute) => `2031-02-11 08:${two(minute)}:00,${12 + (minute % 3)}\n`).join('')}`;

/** Names in headers, words, columns that nobody listed and a row that cannot be used; ages around 89 years. */
const TABLE = `Patient,Years of Zoe,Injury,Fate of Zoe,Eyes by Zoe,Zoe's phone,GCS motor
Zoe-1,89,2031-02-11 05:00,3,Zoe says both,555-0100,3
Zoe-2,89.5,2031-02-11 05:00,4,none,"Zoe, 555-0101",3
Zoe-3,120,2031-02-11 05:00,5,zoe  says both,,3
Zoe-4,90,2031-02-11 05:00,6,1,,3
Zoe-5,44,2031-02-11 05:00,Zoe knows,1,,3
`;

const UNIT = `title: Ward of Zoe
timezone: Europe/Oslo
report: study
exports: exports
expected: [Zoe-9]
cohort:
  files: cohort of Zoe.csv
  columns:
    age: {header: Years of Zoe, unit: years}
    outcome: {header: Fate of Zoe, scale: gose}
    pupils: {header: Eyes by Zoe, words: {Zoe says both: "2"}}
study: {leastHours: 0.5}
`;

describe('a table of patients in a shared set', () => {
  it.each(['elapsed', 'shifted'])(
    'keeps what its columns mean and no word of theirs: times %s',
    async (times) => {
      const ids = ['Zoe-1', 'Zoe-2', 'Zoe-3', 'Zoe-4', 'Zoe-5'];
      const folder = folderWith({
        'unit.yaml': UNIT,
        'cohort of Zoe.csv': TABLE,
        ...Object.fromEntries(ids.map((id) => [`exports/${id}.csv`, STAY])),
      });
      const args = ['deidentify', 'unit.yaml', '--out', 'shared', '--key', 'key.csv', '--times', times];
      const { status, stderr } = await commandLine(args, folder);
      expect([status, stderr.replace(/^cistern: \d of \d read\n/gm, '')]).toEqual([0, '']);
      const shared = join(folder, 'shared');
      const names = readdirSync(shared, { recursive: true, encoding: 'utf8' });
      for (const name of names.filter((one) => statSync(join(shared, one)).isFile())) {
        const bytes = readFileSync(join(shared, name));
        const text = (name.endsWith('.gz') ? gunzipSync(bytes) : bytes).toString('utf8');
        expect(`${name} ${text}`).not.toMatch(/zoe|555-|89\.5|2031-02-11/i);
      }
      const [header, ...rows] = readFileSync(join(shared, 'cohort.csv'), 'utf8').trim().split('\r\n');
      expect(header).toBe('Patient,Age (years),Age over 89,Injury,GCS motor,Pupils reacting,GOSE');
      const cells = rows.map((row) =>
        row
          .split(',')
          .filter((_, i) => i !== 0 && i !== 3)
          .join(' '),
      );
      expect(cells.sort()).toEqual(['89  3 2 3', '90 yes 3 0 4', '90 yes 3 1 6', '90 yes 3 2 5']);
      // And the set says itself which scale and unit they are on.
      const ran = await commandLine(
        ['run', 'shared/pipeline.yaml', '--out', 'report', '--threads', '1', '--no-pages'],
        folder,
      );
      expect([ran.status, ran.stderr]).toEqual([0, '']);
    },
  );
});
