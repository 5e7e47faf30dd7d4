import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cistern, folderWith, nightCsv } from '../support/cistern.js';

const quiet = nightCsv((minute) => 12 + (minute % 2));
const german =
  'Export\n\nDatum;Uhrzeit;ICP;ABP mean\n;;mmHg;mmHg\n25.02.2031;19:00:00;12,5;80\n25.02.2031;19:00:01;error;80\n';

describe('cistern inspect', () => {
  it('explains a file like a colleague, and exits 0', () => {
    const cwd = folderWith({ 'bed-7.csv': german });
    const { status, stdout, stderr } = cistern(['inspect', 'bed-7.csv', '--set', 'timezone=Europe/Oslo'], {
      cwd,
    });
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toBe(`bed-7.csv  104 bytes

  Written   UTF-8 text, cells parted by semicolons, decimal comma; a column a channel.
            Header in line 3, units in the line under it.
            Above it 1 line left alone: "Export".
  Times     "Datum" with "Uhrzeit": calendar times such as 25.02.2031 19:00:00, day first, since line 5 holds 25.02.2031 19:00:00.
            They give no offset: local time in Europe/Oslo.
  Patient   nothing in the file names one; the file name would: "bed-7".

    Column    taken for  unit  why
    Datum     date             by its name
    Uhrzeit   time             by its name, with the date beside it
    ICP       ICP        mmHg  by its name, unit from the row of units
    ABP mean  MAP        mmHg  by its name, unit from the row of units

  Data      25 February 2031 19:00:00 to 19:00:00 (0 s)

    Channel  lowest  median  highest        first to last
    ICP        12.5    12.5     12.5  mmHg  ▄                                         one sample
    MAP          80      80       80  mmHg  ▄                                         one sample

  Rows      2 rows read, 1 would be used, 1 set aside.
              line 6: column "ICP": "error" is not a number
                25.02.2031;19:00:01;error;80
  Look at   One row could not be used: bed-7.csv, line 6, column "ICP": "error" is not a number.
`);
  });

  it('prints the same for machines', () => {
    const cwd = folderWith({ 'exports/1.csv': quiet, 'exports/2.csv': german });
    const { status, stdout } = cistern(['inspect', 'exports', '--json'], { cwd });
    expect(status).toBe(0);
    const [first, second] = JSON.parse(stdout);
    expect(first).toMatchObject({
      file: '1.csv',
      kind: 'export',
      problem: null,
      dialect: { encoding: 'utf-8', delimiter: ',', headerLine: 1, shape: 'wide' },
      times: { form: 'calendar', zoneFrom: 'nothing' },
      rows: { read: 721, used: 721, setAside: 0 },
    });
    expect(first.patients[0].channels.map((one: { channel: string }) => one.channel)).toEqual(['icp', 'map']);
    expect(second.setAside).toEqual([
      {
        line: 6,
        lastLine: 6,
        rows: 1,
        reason: 'column "ICP": "error" is not a number',
        row: '25.02.2031;19:00:01;error;80',
      },
    ]);
  });

  it('writes a pipeline file that check and run take, and never over another', () => {
    const cwd = folderWith({ 'exports/1.csv': quiet });
    const write = ['inspect', 'exports', '--set', 'timezone=Europe/Oslo', '--write', 'unit.yaml'];
    const { status, stderr } = cistern(write, { cwd });
    expect([status, stderr]).toEqual([
      0,
      'cistern: wrote unit.yaml; look through it, then: cistern run unit.yaml\n',
    ]);
    expect(readFileSync(join(cwd, 'unit.yaml'), 'utf8')).toContain(
      'exports:\n  - exports\ntimezone: Europe/Oslo\n',
    );
    expect(cistern(['check', 'unit.yaml'], { cwd }).status).toBe(0);
    expect(cistern(['run', 'unit.yaml', '--out', 'report'], { cwd }).stdout).toContain('1 patient reported');
    const again = cistern(write, { cwd });
    expect([again.status, again.stderr]).toEqual([
      2,
      'cistern: there is a file unit.yaml already. Give --write another name.\n',
    ]);
  });

  it('reads as a pipeline file says', () => {
    const cwd = folderWith({
      'unit.yaml':
        'exports: .\nreport: morning\ntimezone: Europe/Oslo\ncolumns: {icp: {header: P3, unit: kPa}}\n',
      'a.csv': 'Time,P3\n2031-02-11 02:10:00,2\n',
    });
    const { stdout } = cistern(['inspect', 'a.csv', '--pipeline', 'unit.yaml'], { cwd });
    expect(stdout).toContain(
      'P3      ICP        kPa   named in the pipeline file, unit from the pipeline file',
    );
    expect(stdout).toContain('They give no offset: local time in Europe/Oslo.');
  });

  it('exits 1 where a file cannot be used, and says why and what was understood all the same', () => {
    const cwd = folderWith({ 'a.csv': 'Time,ICP\n2031-02-11 02:10:00,12\n' });
    const { status, stdout } = cistern(['inspect', 'a.csv'], { cwd });
    expect(status).toBe(1);
    expect(stdout).toContain(
      'It cannot be used. Line 1, column "ICP": its unit is not given. Write it into the header, as in "ICP (mmHg)"',
    );
    expect(stdout).toContain('cells parted by commas');
  });

  it('exits 2 where there is nothing to inspect, or an option is wrong', () => {
    const cwd = folderWith({ 'a.csv': quiet });
    expect(cistern(['inspect', 'b.csv'], { cwd })).toMatchObject({
      status: 2,
      stdout: '',
      stderr: 'cistern: there is no file or folder b.csv. Look at its name and folder.\n',
    });
    expect(cistern(['inspect'], { cwd }).status).toBe(2);
    expect(cistern(['inspect', 'a.csv', '--set', 'timezone=Oslo'], { cwd }).stderr).toContain(
      'timezone: expected an IANA time zone such as Europe/Oslo',
    );
  });
});
