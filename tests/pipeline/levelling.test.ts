import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, test } from 'vitest';
import { pipelineOf } from '../../src/pipeline/load-pipeline.js';
import type { RecordingResult, Results } from '../../src/report/results-schema.js';
import { folderWith, nightCsv } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';

const good = 'exports: exports\nreport: morning\n';

function refusal(levelling: string): string {
  try {
    pipelineOf(`${good}levelling: ${levelling}\n`, 'unit.yaml');
  } catch (error) {
    return (error as Error).message;
  }
  return 'it was not refused';
}

describe('levelling in a pipeline file', () => {
  it.each([
    ['{zeroedAt: heart, verticalCm: 20}'],
    ['{zeroedAt: heart, heartToEarCm: 30, headOfBedDegrees: 30}'],
    ['{zeroedAt: heart, heartToEarCm: 30, headOfBed: careLog}\ncare: care.csv'],
    ['{zeroedAt: heart, heartToEarCm: 30, headOfBed: careLog, headOfBedDegrees: 30}\ncare: care.csv'],
    ['{zeroedAt: ear}'],
  ])('%s is taken', (levelling) => {
    expect(refusal(levelling)).toBe('it was not refused');
  });

  it.each([
    ['{verticalCm: 20}', 'unit.yaml, line 3: "levelling.zeroedAt" is missing. Valid here: heart, ear.'],
    [
      '{zeroedAt: knee}',
      'unit.yaml, line 3: levelling.zeroedAt: "knee" is no valid value. Valid here: heart, ear.',
    ],
    [
      '{zeroedAt: ear, verticalCm: 20}',
      'unit.yaml: levelling: a line that was zeroed at the ear needs no height and no angle. Take them out, or say zeroedAt: heart.',
    ],
    [
      '{zeroedAt: heart}',
      'unit.yaml: levelling: how far the ear lies above the heart is not given. Give verticalCm, or heartToEarCm with headOfBedDegrees or headOfBed: careLog.',
    ],
    [
      '{zeroedAt: heart, headOfBedDegrees: 30}',
      'unit.yaml: levelling: how far the ear lies above the heart is not given. Give verticalCm, or heartToEarCm with headOfBedDegrees or headOfBed: careLog.',
    ],
    [
      '{zeroedAt: heart, heartToEarCm: 30}',
      'unit.yaml: levelling: heartToEarCm needs the angle of the head of the bed. Give headOfBedDegrees, or headOfBed: careLog where a care log has it.',
    ],
    [
      '{zeroedAt: heart, verticalCm: 20, headOfBedDegrees: 30}',
      'unit.yaml: levelling: verticalCm is the height itself, and heartToEarCm with the angle of the head of the bed makes it once more. Give one of the two.',
    ],
    [
      '{zeroedAt: heart, heartToEarCm: 30, headOfBed: careLog}',
      'unit.yaml: levelling: headOfBed asks the care log for the angle, and no care log is given. Name it as care: FILE, or give headOfBedDegrees alone.',
    ],
    [
      '{zeroedAt: heart, verticalCm: 200}',
      'unit.yaml, line 3: levelling.verticalCm: expected a length in cm, -100 to 100, not 200. Mend the value.',
    ],
    [
      '{zeroedAt: heart, heartToEarCm: 30, headOfBedDegrees: 120}',
      'unit.yaml, line 3: levelling.headOfBedDegrees: expected an angle of 0 to 90 degrees, not 120. Mend the value.',
    ],
  ])('%s is refused', (levelling, message) => {
    expect(refusal(levelling)).toBe(message);
  });
});

const CARE = 'Patient,Start,Event\n7,2031-02-11 23:00,HOB 30\n7,2031-02-12 03:00,HOB flat\n';

/** A page as its text. */
const textOf = (path: string): string =>
  readFileSync(path, 'utf8')
    .replace(/<style>[\s\S]*?<\/style>|<svg[\s\S]*?<\/svg>/g, '')
    .replace(/<[^>]+>/g, '')
    .replaceAll('&quot;', '"');

interface Ran {
  readonly results: Results;
  readonly recording: RecordingResult;
  readonly text: (page: string) => string;
}

async function run(keys: string, care = CARE): Promise<Ran> {
  const folder = folderWith({
    'unit.yaml': `timezone: UTC\n${good}${keys}`,
    'exports/7.csv': nightCsv(
      (minute) => (minute % 2 === 0 ? 11.5 : 12.5),
      (minute) => 84 + (minute % 3),
    ),
    'care.csv': care,
  });
  const out = join(folder, 'report');
  const { status, stderr } = await commandLine(['run', 'unit.yaml', '--out', out, '--threads', '1'], folder);
  expect([status, stderr]).toEqual([0, '']);
  const results = JSON.parse(readFileSync(join(out, 'results.json'), 'utf8')) as Results;
  return { results, recording: results.recordings[0], text: (page) => textOf(join(out, page)) };
}

test('a height that is given holds throughout, and stands in one line wherever CPP does', async () => {
  const { recording, results, text } = await run('levelling: {zeroedAt: heart, verticalCm: 20}\n');
  expect(recording.cpp.meanMmHg).toBeCloseTo(73 - 15.594, 3);
  expect(recording.levelling).toMatchObject({ zeroedAt: 'heart', asZeroedNote: null, unknownHours: 0 });
  expect(recording.levelling.steps).toEqual([
    {
      start: '2031-02-11T19:00:00+00:00',
      end: '2031-02-12T07:00:00+00:00',
      headOfBedDegrees: null,
      verticalCm: 20,
      correctionMmHg: expect.closeTo(15.594, 3),
    },
  ]);
  expect(results.settings.levelling).toEqual({ zeroedAt: 'heart', verticalCm: 20 });
  const note =
    'For CPP, MAP was taken down by 15.6 mmHg to ear level: the line was zeroed at the heart, and the ear lies 20 cm above it.';
  expect(text(recording.page!)).toContain(note);
  expect(text(recording.detailPage!)).toContain(note);
  expect(recording.handover.join('\n')).toContain(note);
  expect(text('index.html')).toContain('CPP is MAP at ear level minus ICP');
});

test('the care log gives the angle, and before its first entry CPP is not known', async () => {
  const { recording, text } = await run(
    'care: care.csv\nlevelling: {zeroedAt: heart, heartToEarCm: 30, headOfBed: careLog}\n',
  );
  const { levelling, monitoredHours, hours } = recording;
  expect(levelling.steps).toMatchObject([
    { correctionMmHg: null, correctionMmHgReason: 'the angle of the head of the bed is not known' },
    { headOfBedDegrees: 30, start: '2031-02-11T23:00:00+00:00', correctionMmHg: expect.closeTo(11.695, 3) },
    { headOfBedDegrees: 0, start: '2031-02-12T03:00:00+00:00', correctionMmHg: 0 },
  ]);
  expect(levelling.unknownHours).toBe(4);
  expect(monitoredHours).toMatchObject({ map: 12, cpp: expect.closeTo(8, 9) });
  expect(hours[0].cpp).toMatchObject({ meanMmHg: null, meanMmHgReason: 'no CPP in this time' });
  expect(text(recording.page!)).toContain(
    'For CPP, MAP was taken down by 0.0 to 11.7 mmHg to ear level: the line was zeroed at the heart, and 30 cm from heart to ear, head of the bed at 0 to 30 degrees, by the care log. For 4 h the angle of the head of the bed is not known, and so CPP is not known either.',
  );
});

test('an entry that gives no angle leaves CPP unknown until one that does, and the note names it', async () => {
  const log = [
    'Patient,Start,Event',
    '7,2031-02-11 18:00,HOB 30',
    '7,2031-02-11 20:00,Head of bed up',
    '7,2031-02-11 21:00,Turned to the left side',
    '7,2031-02-11 23:00,Head of bed flat',
    '7,2031-02-12 04:00,HOB 30',
    '7,2031-02-12 04:00,HOB 45',
  ];
  const { recording, text } = await run(
    'care: care.csv\nlevelling: {zeroedAt: heart, heartToEarCm: 30, headOfBed: careLog}\n',
    `${log.join('\n')}\n`,
  );
  const { levelling, monitoredHours } = recording;
  expect(levelling.steps.map(({ headOfBedDegrees }) => headOfBedDegrees)).toEqual([30, null, 0, null]);
  expect(levelling.unknownHours).toBe(6);
  expect(monitoredHours.cpp).toBeCloseTo(6, 5);
  const said =
    'For 6 h the angle of the head of the bed is not known, and so CPP is not known either. 20:00 "Head of bed up" gives no angle: CPP is unknown until 23:00. 04:00 entries of one time give different angles: CPP is unknown from then on.';
  expect(levelling.note).toContain(said);
  expect(text(recording.page!)).toContain(said);
});

test('inspect says how many entries give the angle of the head of the bed', async () => {
  const folder = folderWith({
    'a.csv': CARE,
    'b.csv': `${CARE}7,2031-02-12 05:00,Head of bed up\n7,2031-02-12 05:30,Turned\n`,
  });
  const { stdout } = await commandLine(['inspect', 'a.csv', 'b.csv'], folder);
  expect(stdout).toContain('  Angles    2 of 2 entries on the head of the bed give its angle.\n');
  expect(stdout).toContain(
    '  Angles    2 of 3 entries on the head of the bed give its angle; behind the others it is not known until one that does ("Head of bed up" on line 4 is the first without).\n',
  );
});

test('an angle to start with fills the time before the first entry', async () => {
  const { recording } = await run(
    'care: care.csv\nlevelling: {zeroedAt: heart, heartToEarCm: 30, headOfBed: careLog, headOfBedDegrees: 45}\n',
  );
  expect(recording.monitoredHours.cpp).toBeCloseTo(12, 9);
  expect(recording.levelling.steps.map(({ headOfBedDegrees }) => headOfBedDegrees)).toEqual([45, 30, 0]);
});

test('a log that never gives the angle leaves CPP unknown, and the pages say why', async () => {
  const { recording, text } = await run(
    'care: {files: care.csv, columns: {patient: Patient}}\nlevelling: {zeroedAt: heart, heartToEarCm: 30, headOfBed: careLog}\nperiod: {from: "2031-02-11 19:00", to: "2031-02-11 22:00"}\n',
  );
  expect(recording.cpp.meanMmHg).toBeNull();
  expect(text(recording.detailPage!)).toContain(
    'CPP is not known: MAP has to be taken to ear level, and the angle of the head of the bed is not known for it.',
  );
  expect(text(recording.page!)).toContain(
    'CPP needs MAP at ear level, and the line was zeroed at the heart.',
  );
});

test('where nothing is said of the level, or the line was zeroed at the ear, one short line in detail says so', async () => {
  const nothing = await run('');
  expect(nothing.recording.levelling).toMatchObject({ zeroedAt: null, note: null, steps: [] });
  const asZeroed = 'CPP is as the lines were zeroed; nothing says at which level, and nothing was corrected.';
  expect(nothing.text(nothing.recording.detailPage!)).toContain(asZeroed);
  expect(nothing.text(nothing.recording.page!)).not.toContain('zeroed');
  expect(nothing.results.unit.levellingNote).toBeNull();
  const ear = await run('levelling: {zeroedAt: ear}\n');
  expect(ear.recording.cpp).toEqual(nothing.recording.cpp);
  expect(ear.recording.levelling).toMatchObject({ zeroedAt: 'ear', note: null, steps: [] });
  expect(ear.text(ear.recording.detailPage!)).toContain(
    'The arterial line was zeroed at the ear, as the pipeline file says: CPP needs no correction.',
  );
});
