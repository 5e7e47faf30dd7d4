import { describe, expect, test } from 'vitest';
import { monthsInHeader } from '../../../src/ingest/tables/cohort.js';
import { asides, iso, read, whyRefused } from './support.js';

/** A cohort of one good patient and the rows given. */
const cohort = (header: string, good: string, ...rows: string[]): string =>
  `ID,${header}\n${[`good,${good}`, `fine,${good}`, ...rows.map((row, i) => `${i},${row}`), `last,${good}`, `end,${good}`, `more,${good}`].join('\n')}\n`;

describe('a cohort table', () => {
  test('is read whole', async () => {
    const { rows } = await read(
      'cohort',
      [
        'Patient;Age (years);GCS total;GCS motor;CT;Pupils reacting;Motor posturing;SBP (kPa);Injury;Admission;Monitoring from;Monitoring to;Craniectomy;Treatment withdrawn;Brain death;Death;GOSE;Outcome assessed',
        '007;41,5;7;4;abnormal;both;no;12;10.02.2031 21:40;10.02.2031 22:30;11.02.2031 02:00;15.02.2031;yes;no;no;16.02.2031 04:00;1;16.02.2031',
        '8;19;6;3;normal;none;yes;;10.02.2031;;13.02.2031 02:00;;12.02.2031;;;no;upper good recovery;6 months',
      ].join('\n'),
      { order: 'dayFirst' },
    );
    const [first, second] = rows;
    expect(first).toMatchObject({
      id: '007',
      ageYears: 41.5,
      gcsTotal: 7,
      gcsMotor: 4,
      ct: 'abnormal',
      pupilsReacting: 2,
      posturing: false,
      craniectomy: { happened: true, at: null },
      withdrawn: { happened: false, at: null },
      brainDeath: { happened: false, at: null },
      outcome: { scale: 'gose', value: 1 },
    });
    expect(first.sbpMmHg).toBeCloseTo(90.007, 3);
    expect(
      [first.injury, first.admission, first.monitoringFrom, first.monitoringTo].map((m) => iso(m?.utcMs)),
    ).toEqual([
      '2031-02-10T21:40:00Z',
      '2031-02-10T22:30:00Z',
      '2031-02-11T02:00:00Z',
      '2031-02-15T00:00:00Z',
    ]);
    expect(first.monitoringTo).toMatchObject({ isDay: true, endUtcMs: Date.UTC(2031, 1, 16) });
    expect(iso(first.death?.at?.utcMs)).toBe('2031-02-16T04:00:00Z');
    expect(second).toMatchObject({
      pupilsReacting: 0,
      sbpMmHg: null,
      craniectomy: { happened: true, at: { utcMs: Date.UTC(2031, 1, 12), isDay: true } },
      withdrawn: null,
      death: { happened: false, at: null },
      outcome: { scale: 'gose', value: 8 },
      assessed: { months: 6 },
    });
  });

  test.each([
    ['TIL', '10', '101', 'column "TIL": 101 lies outside 0 to 100'],
    ['Therapy intensity', '10', 'high', 'column "Therapy intensity": "high" is not a number'],
    ['Age', '40', '121', 'column "Age": 121 lies outside 0 to 120'],
    ['Age', '40', 'old', 'column "Age": "old" is not a number'],
    ['GCS', '7', '16', 'column "GCS": 16 lies outside 3 to 15'],
    ['GCS', '7', '2', 'column "GCS": 2 lies outside 3 to 15'],
    ['GCS', '7', '7.5', 'column "GCS": 7.5 is no whole number'],
    ['GCS', '7', '7T', 'column "GCS": "7T" is not a number'],
    ['GCS motor', '4', '0', 'column "GCS motor": 0 lies outside 1 to 6'],
    ['GCS,GCS (motor)', '7,4', '7,6', 'a GCS of 7 cannot hold a motor part of 6'],
    ['CT', 'normal', 'III', 'column "CT": "III" is none of normal, abnormal'],
    ['Pupils', 'both', 'three', 'column "Pupils": "three" is none of 0, 1, 2'],
    ['Posturing', 'no', 'left', 'column "Posturing": "left" is neither yes nor no'],
    ['SBP (mmHg)', '90', '400', 'column "SBP (mmHg)": 400 lies outside 0 to 300'],
    ['GOSE', '5', '9', 'column "GOSE": 9 is none of the levels 1 to 8'],
    [
      'GOSE',
      '5',
      'good recovery',
      'column "GOSE": "good recovery" may be the lower or the upper level of the GOSE',
    ],
    ['GOS', '5', '6', 'column "GOS": 6 is none of the levels 1 to 5'],
    ['GOS', '5', 'well', 'column "GOS": "well" is no number or word of the GOS'],
    ['Mortality', 'alive', 'unclear', 'column "Mortality": "unclear" is neither alive nor dead'],
    ['GOS,Death', '5,no', '1,no', 'the outcome says dead, and the column of deaths says no'],
    [
      'GOSE,Assessed,Death',
      '1,2031-08-11,2031-02-20',
      '6,2031-08-11,2031-02-20',
      'the outcome says alive, and the patient had died before it was assessed',
    ],
    [
      'GOSE at 6 months,Injury,Brain death',
      '6,2031-02-11 10:00,no',
      '6,2031-02-11 10:00,2031-02-14 08:00',
      'the outcome says alive, and the patient had died before it was assessed',
    ],
    [
      'Mortality,Assessed,Death',
      'dead,2031-08-11,2031-02-20',
      'alive,2031-08-11,2031-02-20',
      'the outcome says alive, and the patient had died before it was assessed',
    ],
    ['GOSE,Brain death', '1,yes', '6,yes', 'the outcome says alive, and the column of brain death says yes'],
    [
      'Injury,Death',
      '2031-02-11 10:00,no',
      '2031-02-11 10:00,2031-02-10',
      'column "Death": "2031-02-10" is before "Injury", "2031-02-11 10:00"',
    ],
    [
      'Treatment withdrawn,Death',
      '2031-02-12 10:00,2031-02-12 11:00',
      '2031-02-12 10:00,2031-02-12 09:00',
      'column "Death": the death is before "Treatment withdrawn"',
    ],
    [
      'Brain death,Treatment withdrawn,Death',
      'no,2031-02-12 10:00,2031-02-12 11:00',
      'no,2031-02-12 10:00,2031-02-12 09:00',
      'column "Death": the death is before "Treatment withdrawn"',
    ],
    [
      'Brain death,Death',
      '2031-02-12,2031-02-12 11:00',
      '2031-02-12,2031-02-11',
      'column "Death": the death is before "Brain death"',
    ],
    ['SBP (kPa)', '12', '100', 'column "SBP (kPa)": 100 is 750.1 once converted, and lies outside 0 to 300'],
    [
      'Age (months)',
      '30',
      '1500',
      'column "Age (months)": 1500 is 125 once converted, and lies outside 0 to 120',
    ],
    ['Death', '2031-02-11', 'maybe', 'column "Death": "maybe" is no time that can be read'],
    [
      'Monitoring from,Monitoring to',
      '2031-02-11 10:00,2031-02-12',
      '2031-02-11 10:00,2031-02-11 09:00',
      'column "Monitoring to": "2031-02-11 09:00" is before "Monitoring from", "2031-02-11 10:00"',
    ],
  ])('sets a row aside where a cell is in doubt: %s, not %s but %s', async (header, good, bad, reason) => {
    const table = await read('cohort', cohort(header, good, bad));
    expect(asides(table).map(([line, , why]) => [line, why])).toEqual([[4, reason]]);
  });

  test.each(['90+', '90 +', '>89', '> 89', '≥90', '>= 90', 'over 89', '90 or older'])(
    'reads the age of a group without an upper end: %s',
    async (age) => {
      const table = await read('cohort', cohort('Age (years)', '41', age));
      expect(table.rows.find(({ id }) => id === '0')?.ageYears).toBe(90);
      expect(asides(table)).toEqual([]);
    },
  );

  test('takes no such words for an age in months', async () => {
    const table = await read('cohort', cohort('Age (months)', '30', '90+'));
    expect(asides(table).map(([line, , why]) => [line, why])).toEqual([
      [4, 'column "Age (months)": "90+" is not a number'],
    ]);
  });

  test.each([
    ['a death behind the assessment', 'GOSE,Assessed,Death', '6,2031-08-11,2031-09-01'],
    ['a death on the day of the assessment', 'GOSE,Assessed,Death', '6,2031-08-11,2031-08-11'],
    ['a death near the month of the assessment', 'GOSE at 6 months,Injury,Death', '6,2031-02-11,2031-07-20'],
    ['a death when nobody says when the outcome was assessed', 'GOSE,Death', '6,2031-02-20'],
    [
      'a withdrawal a day after a death that was dated when the brain had died',
      'Brain death,Treatment withdrawn,Death',
      '2031-02-12 10:00,2031-02-13 09:00,2031-02-12 10:00',
    ],
    ['a withdrawal on the day of the death', 'Treatment withdrawn,Death', '2031-02-12,2031-02-12 00:30'],
    [
      'a withdrawal behind brain death',
      'Brain death,Treatment withdrawn',
      '2031-02-12 10:00,2031-02-12 12:00',
    ],
    ['a brain death beside a column that tells of no other', 'GOS,Brain death,Death', '1,yes,no'],
    ['a death outside of the hospital', 'GOSE at 6 months,Hospital death', '1,no'],
  ])('believes %s', async (_, header, row) => {
    const table = await read('cohort', cohort(header, row));
    expect(table.setAside).toEqual([]);
  });

  test('believes a death on the day of the injury', async () => {
    const table = await read('cohort', cohort('Injury,Death', '2031-02-11 10:00,2031-02-11'));
    expect(table.setAside).toEqual([]);
  });

  test('takes words of the file as they stand in it, however many spaces they hold', async () => {
    const words = { 'Two   eyes': '2', 'one\neye': '1' };
    const { rows } = await read('cohort', cohort('Pupils', '"two   eyes"', '"One\neye"', ' TWO EYES '), {
      columns: { pupils: { words } },
    });
    expect(rows.slice(1, 4).map(({ pupilsReacting }) => pupilsReacting)).toEqual([2, 1, 2]);
  });

  test('asks for the unit of SBP', async () => {
    expect(await whyRefused('cohort', cohort('SBP', '90'))).toBe(
      'a.csv, line 1, column "SBP": its unit is not given. Write it into the header, as in "systolic ABP (mmHg)", or into the pipeline file under columns, as in sbp: {unit: mmHg}.',
    );
    const { rows } = await read('cohort', cohort('SBP', '90'), { columns: { sbp: { unit: 'mmHg' } } });
    expect(rows[0].sbpMmHg).toBe(90);
  });

  test('says how an assessment is written', async () => {
    const rows = ['-6 months', '180 days', 'six months'].map((text, i) => `${i},5,2031-02-11,${text}\n`);
    expect(await whyRefused('cohort', `ID,GOSE,Injury,Outcome assessed\n${rows.join('')}`)).toBe(
      'a.csv, line 2: 3 of 3 rows cannot be used, this one first: column "Outcome assessed": "-6 months" is no time that can be read. Times are expected as 2031-02-11 02:10:00, with or without an offset. Months after the injury are written as 6 months.',
    );
  });

  test('reads ages in months, and refuses units that are none', async () => {
    expect((await read('cohort', cohort('Age (months)', '30'))).rows[0].ageYears).toBe(2.5);
    expect(await whyRefused('cohort', cohort('Age (moons)', '30'))).toBe(
      'a.csv, line 1, column "Age (moons)": the unit "moons" is not known. Write a usual one into the header, or declare it in the pipeline file under columns.',
    );
  });

  test('refuses an id that stands twice: all of its rows are set aside, whatever else is wrong with them', async () => {
    const table = await read('cohort', 'ID,Age\n7,40\n07,41\n7,40\n8,50\n8,500\n9,1\n10,1\n');
    expect(asides(table)).toEqual([
      [2, 'conflict', 'patient "7" stands on line 4 as well'],
      [4, 'conflict', 'patient "7" stands on line 2 as well'],
      [5, 'conflict', 'patient "8" stands on line 6 as well'],
      [6, 'unreadable', 'column "Age": 500 lies outside 0 to 120'],
    ]);
    expect(table.rows.map(({ id }) => id)).toEqual(['07', '9', '10']);
  });
});

describe('the outcome', () => {
  test.each([
    ['GOS', '3', { scale: 'gos', value: 3 }],
    ['GOS at 6 months', 'moderate disability', { scale: 'gos', value: 4 }],
    ['GOS', 'Persistent vegetative state', { scale: 'gos', value: 2 }],
    ['GOS', 'dead', { scale: 'gos', value: 1 }],
    ['GOSE', 'Brain death', { scale: 'gose', value: 1 }],
    ['Vital status', 'brain dead', { scale: 'mortality', isDead: true }],
    ['GOS-E', '7', { scale: 'gose', value: 7 }],
    ['GOSE', 'Lower severe disability', { scale: 'gose', value: 3 }],
    ['GOSE', 'severe disability, upper', { scale: 'gose', value: 4 }],
    ['Extended Glasgow Outcome Scale', 'MD-', { scale: 'gose', value: 5 }],
    ['Outcome', 'upper moderate disability', { scale: 'gose', value: 6 }],
    ['Outcome', 'good recovery', { scale: 'gos', value: 5 }],
    ['Outcome', 'survived', { scale: 'mortality', isDead: false }],
    ['Mortality', 'yes', { scale: 'mortality', isDead: true }],
    ['6-month mortality', '0', { scale: 'mortality', isDead: false }],
    ['Survival', '1', { scale: 'mortality', isDead: false }],
  ])('under %s, as %s', async (header, cell, outcome) => {
    const { rows } = await read('cohort', `ID,Age,"${header}"\n7,40,"${cell}"\n`);
    expect(rows[0].outcome).toEqual(outcome);
  });

  test('of plain numbers needs a scale', async () => {
    const content = 'ID,Age,Outcome\n7,40,5\n';
    expect(await whyRefused('cohort', content)).toBe(
      'a.csv, line 1, column "Outcome": nothing says which scale the outcome is on. Say it in the pipeline file, as columns: {outcome: {scale: gos}}, gose or mortality.',
    );
    const { rows } = await read('cohort', content, { columns: { outcome: { scale: 'gose' } } });
    expect(rows[0].outcome).toEqual({ scale: 'gose', value: 5 });
  });

  test.each([
    ['gose at 6 months', 6],
    ['6 month mortality', 6],
    ['gos 12m', 12],
    ['gose month 3', 3],
    ['gose', null],
  ])('is assessed when its header says: %s', (name, months) => {
    expect(monthsInHeader(name)).toBe(months);
  });

  test.each([
    ['Assessed (months)', '6', { months: 6 }],
    ['Months after injury', '6.5', { months: 6.5 }],
    ['Assessed', '6 months', { months: 6 }],
    ['Follow-up date', '2031-08-12', { utcMs: Date.UTC(2031, 7, 12), isDay: true }],
  ])('is assessed under %s, as %s', async (header, cell, assessed) => {
    const { rows } = await read('cohort', `ID,Age,GOS,${header}\n7,40,5,${cell}\n`);
    expect(rows[0].assessed).toMatchObject(assessed);
  });

  test('under plain numbers of which nothing says that they are months is refused, and it is said how to', async () => {
    await expect(read('cohort', 'ID,Age,GOS,Assessed\n7,40,5,6\n')).rejects.toThrow(
      'a.csv, line 1, column "Assessed": the times are plain numbers ("6"), and nothing says of what. Where they are months after the injury, write that into the header, as "Assessed (months)". Else say what they are in the pipeline file, as columns: {assessed: {form: spreadsheetDays}}, or form: epochSeconds or epochMilliseconds.',
    );
  });
});

describe('the columns of a cohort', () => {
  test.each([
    ['CT abnormal', 'yes', 'abnormal'],
    ['CT abnormal', '0', 'normal'],
    ['CT normal', 'yes', 'normal'],
    ['CT (abnormal)', 'y', 'abnormal'],
    ['CT', 'Abnormal', 'abnormal'],
  ])('CT under %s, as %s', async (header, cell, ct) => {
    expect((await read('cohort', `ID,Age,${header}\n7,40,${cell}\n`)).rows[0].ct).toBe(ct);
  });

  test.each([
    ['both fixed', 0],
    ['None', 0],
    ['one', 1],
    ['2', 2],
    ['', null],
    ['-', null],
  ])('pupils as "%s"', async (cell, reacting) => {
    expect((await read('cohort', `ID,Age,Pupils (0-2)\n7,40,${cell}\n`)).rows[0].pupilsReacting).toBe(
      reacting,
    );
  });

  test.each([
    ['Therapy intensity', '12', 12],
    ['Therapy Intensity Level', '7.5', 7.5],
    ['Mean therapy intensity score', '0', 0],
    ['TIL sum', '31', 31],
    ['max TIL', '100', 100],
    ['TIL', '', null],
  ])('therapy intensity under %s, as "%s"', async (header, cell, therapyIntensity) => {
    expect((await read('cohort', `ID,Age,${header}\n7,40,${cell}\n`)).rows[0].therapyIntensity).toBe(
      therapyIntensity,
    );
  });

  test('hold no therapy intensity where none is named, and not of another word with til in it', async () => {
    const { rows, leftAlone } = await read('cohort', 'ID,Age,Ventilated until\n7,40,12\n');
    expect(rows[0].therapyIntensity).toBeNull();
    expect(leftAlone).toEqual([{ header: 'Ventilated until', why: 'none of the names known here' }]);
  });

  test('leave alone the count of pupils that do not react', async () => {
    const { leftAlone } = await read('cohort', 'ID,Age,Pupils unreactive\n7,40,1\n');
    expect(leftAlone).toEqual([{ header: 'Pupils unreactive', why: 'none of the names known here' }]);
  });
});
