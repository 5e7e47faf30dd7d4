import { describe, expect, test } from 'vitest';
import { angleIn, careKinds } from '../../../src/ingest/tables/care-words.js';
import { unclearDrains } from '../../../src/ingest/tables/unclear-drains.js';
import { asides, iso, read, whyRefused } from './support.js';

describe('what a text tells', () => {
  test.each([
    ['turn', ['turn']],
    ['Turned to left side', ['turn']],
    ['repositioned', ['turn']],
    ['Log-rolled', ['turn']],
    ['ETS', ['suction']],
    ['suctioned x2', ['suction']],
    ['Turned and suctioned', ['turn', 'suction']],
    ['suction, then turned', ['suction', 'turn']],
    ['ICP zeroed', ['zeroing']],
    ['re-zeroed', ['zeroing']],
    ['Zero ICP', ['zeroing']],
    ['EVD open', ['drainOpen']],
    ['EVD opened at 15 cmH2O', ['drainOpen']],
    ['EVD at 15 cm open', ['drainOpen']],
    ['drain unclamped', ['drainOpen']],
    ['EVD clamped', ['drainClosed']],
    ['Drain closed', ['drainClosed']],
    ['clamped EVD', ['drainClosed']],
    ['EVD clamped, not draining', ['drainClosed']],
    ['EVD clamped for transport', ['drainClosed', 'travel']],
    ['EVD opened and clamped again', ['other']],
    ['EVD offen', ['drainOpen']],
    ['Drainage geöffnet', ['drainOpen']],
    ['EVD abgeklemmt', ['drainClosed']],
    ['EVD geschlossen', ['drainClosed']],
    ['EVD åpnet', ['drainOpen']],
    ['ventrikkeldren stengt', ['drainClosed']],
    ['EVD zu', ['drainClosed']],
    ['EVD zu hoch', ['other']],
    ['chest drainage open', ['other']],
    ['Thorax-Drainage offen', ['other']],
    ['lumbar drainage closed', ['other']],
    ['EVD on free drainage', ['drainOpen']],
    ['EVD draining at 10', ['drainOpen']],
    ['EVD off', ['drainClosed']],
    ['EVD was opened', ['drainOpen']],
    ['EVD to be opened if ICP > 20', ['other']],
    ['open EVD if ICP > 20', ['other']],
    ['EVD was closed before', ['other']],
    ['suction prn', ['other']],
    ['turned before CT', ['turn', 'travel']],
    ['chest drain clamped', ['other']],
    ['CT', ['travel']],
    ['To MRI', ['travel']],
    ['transport to theatre', ['travel']],
    ['portable CT', ['other']],
    ['HOB 30', ['headOfBed']],
    ['head of bed to 30°', ['headOfBed']],
    ['Mannitol 0.5 g/kg', ['treatment']],
    ['bolus of propofol', ['treatment']],
    ['propofol turned off', ['treatment']],
    ['CSF drained 5 mL', ['treatment']],
    ['no CSF drained', ['other']],
    ['no suction needed', ['other']],
    ['turn refused', ['other']],
    ['unable to turn', ['other']],
    ['turned without problems', ['turn']],
    ['turned due to pressure marks', ['turn']],
    ['returned from CT', ['other']],
    ['family visit', ['other']],
    ['mouth care', ['other']],
    ['saturation 96 %', ['other']],
  ])('%s', (text, kinds) => {
    expect(careKinds(text)).toEqual(kinds);
  });

  test('leaves open what became of a drain', () => {
    const rows = [
      'EVD checked',
      'EVD checked',
      'EVD open',
      'drain site dry',
      'turned',
      'EVD level 10',
      'EVD new bag',
    ];
    expect(unclearDrains(rows.map((text) => ({ text })))).toEqual([
      '5 entries name a drain without saying, in words that are known, whether it was opened or closed: "EVD checked", "drain site dry", "EVD level 10", .... Where one of the two is meant, write "drain opened" or "drain closed".',
    ]);
    expect(unclearDrains([{ text: 'EVD open' }, { text: 'chest drain dry' }])).toEqual([]);
  });

  test.each([
    ['HOB 30', 30],
    ['HOB 30, turned at 4', 30],
    ['30 deg head up', 30],
    ['HOB flat', 0],
    ['HOB 30-45', null],
    ['HOB up', null],
    ['HOB 120', null],
    ['HOB -10', null],
    ['HOB-30', 30],
    ['Head of bed flat', 0],
    ['HOB in Trendelenburg 10', null],
    ['Head of bed up, turned to 30', null],
  ])('the angle of "%s"', (text, degrees) => {
    expect(angleIn(text)).toBe(degrees);
  });
});

describe('a care log', () => {
  test('is read into entries, and none is dropped for its words', async () => {
    const table = await read(
      'care',
      [
        'Bed;Date;Start;End;Event;Value;Drug;Dose;Comment',
        '4;13.02.2031;23:50;00:10;EVD clamped;;;;CT later',
        '4;13.02.2031;02:10;;HOB;30°;;;',
        '4;13.02.2031;02:12;;;;Mannitol 20 %;100 ml;',
        '4;13.02.2031;02:14;;Given;;Zapp 5;;',
        '4;13.02.2031;02:16;;Family visit;;;;',
        '4;13.02.2031;02:18;;;;;;Suctioned',
        '4;13.02.2031;02:20;;;;;;',
        '4;13.02.2031;02:22;;HOB;95;;;',
        '4;13.02.2031;02:24;;HOB;up;;;',
        '4;13.02.2031;02:26;;HOB;flat;;;',
      ].join('\n'),
    );
    expect(
      table.rows.map((row) => [
        iso(row.startUtcMs),
        iso(row.endUtcMs),
        row.kind,
        row.text,
        row.angleDegrees,
        row.treatment,
      ]),
    ).toEqual([
      ['2031-02-13T23:50:00Z', '2031-02-14T00:10:00Z', 'drainClosed', 'EVD clamped', null, null],
      ['2031-02-13T02:10:00Z', null, 'headOfBed', 'HOB', 30, null],
      [
        '2031-02-13T02:12:00Z',
        null,
        'treatment',
        'Mannitol 20 %',
        null,
        { name: 'Mannitol 20 %', dose: '100 ml' },
      ],
      ['2031-02-13T02:14:00Z', null, 'treatment', 'Given', null, { name: 'Zapp 5', dose: null }],
      ['2031-02-13T02:16:00Z', null, 'other', 'Family visit', null, null],
      ['2031-02-13T02:18:00Z', null, 'suction', 'Suctioned', null, null],
      ['2031-02-13T02:22:00Z', null, 'headOfBed', 'HOB', null, null],
      ['2031-02-13T02:24:00Z', null, 'headOfBed', 'HOB', null, null],
      ['2031-02-13T02:26:00Z', null, 'headOfBed', 'HOB', 0, null],
    ]);
    expect(asides(table)).toEqual([[8, 'unreadable', 'nothing says what was done']]);
    expect(table.warnings.slice(1)).toEqual([
      'column "Value": 95 lies outside 0 to 90 degrees, so the angle of the head of the bed is not known (line 9).',
      'column "Value": "up" is no angle in degrees, so the angle of the head of the bed is not known (line 10).',
    ]);
    expect(table.counts).toContainEqual({ what: 'treatment', rows: 2 });
  });

  test('sets aside what ends before it starts', async () => {
    const table = await read(
      'care',
      'Patient,Start,End,Kind\n007,2031-02-13 02:10,2031-02-13 02:05,turn\n007,2031-02-13 02:10,2031-02-13 02:15,turn\n',
    );
    expect(asides(table)).toEqual([
      [2, 'order', 'column "End": "2031-02-13 02:05" is before "Start", "2031-02-13 02:10"'],
    ]);
    expect(table.rows[0].patient).toBe('007');
  });
});

describe('a column whose name is mistyped', () => {
  test('refuses the log: the note must not stand in for what was done', async () => {
    const log = 'Patient,Start,Evnt,Note\n1,2031-02-11 21:00,EVD opened,at 15 cm\n';
    expect(await whyRefused('care', log)).toBe(
      'a.csv, line 1: the column "Evnt" is not read, and its name is nearly "Event". Correct the header, or name the column in the pipeline file as columns: {kind: "Evnt"}.',
    );
  });
  test('is no other word of the trade', async () => {
    const { rows } = await read('care', 'Patient,Start,Note,Vent\n1,2031-02-11 21:00,turn,SIMV\n');
    expect(rows).toMatchObject([{ kind: 'turn' }]);
  });
});
