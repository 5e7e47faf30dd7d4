import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { briefSpike } from '../../src/clean/brief-spike.js';
import { RULES } from '../../src/clean/rules.js';
import { loadPipeline } from '../../src/pipeline/load-pipeline.js';
import { folderWith } from '../support/cistern.js';

const write = (text: string): string => join(folderWith({ 'unit.yaml': text }), 'unit.yaml');
const good = 'exports: exports\nreport: morning\n';

/** The message with which a pipeline file is refused. */
async function refusal(text: string, set: string[] = []): Promise<string> {
  try {
    await loadPipeline(write(text), { set });
  } catch (error) {
    return (error as Error).message;
  }
  return 'it was not refused';
}

describe('a pipeline file', () => {
  it('needs exports and report only', async () => {
    const { settings } = await loadPipeline(write(good));
    expect(settings).toMatchObject({
      name: 'unit',
      title: 'Morning report',
      period: 'lastNight',
      exports: ['exports'],
    });
    expect(settings.summarize.targets).toEqual({
      icpThresholdMmHg: 22,
      icpBandMmHg: [5, 15],
      cppFloorMmHg: 60,
      cppEdgesMmHg: [50, 60, 70],
    });
    expect(settings.summarize.icpEpisodes).toEqual({
      threshold: 22,
      side: 'above',
      minSeconds: 300,
      dipSeconds: 30,
      bridgeSeconds: 120,
    });
  });

  it('reports the last night, or on perfusion all of the data, where it names no period', async () => {
    const { settings } = await loadPipeline(write('exports: exports\nreport: perfusion\n'));
    expect([settings.period, settings.effective.period]).toEqual(['all', 'all']);
    const night = await loadPipeline(write('exports: exports\nreport: perfusion\nperiod: lastNight\n'));
    expect([night.settings.period, night.settings.effective.period]).toEqual(['lastNight', 'lastNight']);
  });

  it('takes --set before the file, the file before the preset, the preset before defaults', async () => {
    const text = `${good}preset: paediatric\nsummarize: {cppFloorMmHg: 45}\n`;
    const { settings } = await loadPipeline(write(text), { set: ['segment.icp.minSeconds=240'] });
    expect(settings.summarize.targets.icpThresholdMmHg).toBe(20);
    expect(settings.summarize.targets.cppFloorMmHg).toBe(45);
    expect(settings.summarize.targets.cppEdgesMmHg).toEqual([40, 50]);
    expect(settings.summarize.icpEpisodes.minSeconds).toBe(240);
  });

  it('keeps patients and missing marks as the text that stands there', async () => {
    const text = `${good}expected: [007, 12.50]\npatient: {id: 007}\ncolumns: {missing: [-999]}\n`;
    const { settings } = await loadPipeline(write(text));
    expect(settings.expected).toEqual(['007', '12.50']);
    expect(settings.ingest.patient).toEqual({ id: '007' });
    expect(settings.ingest.missing).toContain('-999');
  });

  it('lets --data replace exports, relative to the working folder', async () => {
    const { baseOf, settings } = await loadPipeline(write(good), { data: ['here', '/there'] });
    expect(settings.exports).toEqual(['here', '/there']);
    expect(baseOf('exports')).toBe(process.cwd());
  });

  it('reads paths of the file relative to it, and those that were typed relative to the working folder', async () => {
    const path = write(`${good}care: logs\n`);
    const { baseOf, settings } = await loadPipeline(path, { set: ['overrides=[a.csv, b.csv]'] });
    expect(settings.logs).toEqual({ care: { files: ['logs'] }, overrides: { files: ['a.csv', 'b.csv'] } });
    expect(settings.effective).toMatchObject(settings.logs);
    expect([baseOf('exports'), baseOf('care')]).toEqual([dirname(path), dirname(path)]);
    expect(baseOf('overrides')).toBe(process.cwd());
  });

  it('switches rules off, and all of them with none', async () => {
    const off = await loadPipeline(write(`${good}clean: {briefSpike: off, step: {stepMmHg: 12}}\n`));
    expect(off.settings.clean.briefSpike).toBeUndefined();
    expect(off.settings.clean.step).toMatchObject({ stepMmHg: 12, withinSeconds: 10 });
    expect((await loadPipeline(write(`${good}clean: none\n`))).settings.clean).toEqual({});
  });

  it.each([
    [
      'an unknown key',
      `title: x\nnigth: {}\n${good}`,
      'unit.yaml, line 2: unknown key "nigth". Did you mean "night"? Valid here: name, title, exports, timezone, preset, period, night, patient, expected, columns, care, alarms, occupancy, cohort, overrides, targets, levelling, clean, segment, summarize, audit, study, report.',
    ],
    [
      'an unknown key inside',
      `${good}segment:\n  icp:\n    treshold: 20\n`,
      'unit.yaml, line 5: unknown key "segment.icp.treshold". Did you mean "thresholdMmHg"? Valid here: thresholdMmHg, minSeconds, dipSeconds, bridgeSeconds.',
    ],
    [
      'an unknown rule',
      `${good}clean: {breifSpike: off}\n`,
      `unit.yaml, line 3: unknown key "clean.breifSpike". Did you mean "briefSpike"? Valid here: ${RULES.map(({ name }) => name).join(', ')}.`,
    ],
    [
      'a wrong parameter',
      `${good}clean: {briefSpike: {rise: 8}}\n`,
      `unit.yaml, line 3: unknown key "clean.briefSpike.rise". Did you mean "riseMmHg"? Valid here: ${Object.keys(briefSpike.parameters.shape).join(', ')}.`,
    ],
    [
      'a key that is not built yet',
      `${good}shifts: {day: "07:00"}\n`,
      'unit.yaml, line 3: "shifts" is not built yet. Take it out for now.',
    ],
    [
      'a bad value',
      `${good}preset: paediatrics\n`,
      'unit.yaml, line 3: preset: "paediatrics" is no valid value. Did you mean "paediatric"? Valid here: adult, paediatric.',
    ],
    [
      'a bad number',
      `${good}segment: {icp: {thresholdMmHg: high}}\n`,
      'unit.yaml, line 3: segment.icp.thresholdMmHg: expected a pressure in mmHg, not "high". Mend the value.',
    ],
    [
      'a bad zone',
      `${good}timezone: Europe/Olso\n`,
      'unit.yaml, line 3: timezone: expected an IANA time zone such as Europe/Oslo, America/Halifax or UTC, not "Europe/Olso". Mend the value.',
    ],
    [
      'a bad time of day',
      `${good}night: {from: "25:00", to: "07:00"}\n`,
      'unit.yaml, line 3: night.from: expected a time of day such as "19:00", not "25:00". Mend the value.',
    ],
    [
      'a bad expression',
      `${good}patient: {fileName: "("}\n`,
      'unit.yaml, line 3: patient.fileName: expected a regular expression, not "(". Mend the value.',
    ],
    [
      'two sources of patients',
      `${good}patient: {id: 1, column: Bed}\n`,
      'unit.yaml, line 3: patient: expected just one of id, column and fileName, not {"id":"1","column":"Bed"}. Mend the value.',
    ],
    [
      'a band upside down',
      `${good}summarize: {icpBandMmHg: [15, 5]}\n`,
      'unit.yaml, line 3: summarize.icpBandMmHg: expected a lower and a higher pressure, not [15,5]. Mend the value.',
    ],
    [
      'no exports',
      'report: morning\n',
      'unit.yaml: "exports" is missing. Say where the exports are, as in exports: ../exports, or use --data.',
    ],
    ['no report', 'exports: x\n', 'unit.yaml: "report" is missing. Add it, as in report: morning.'],
    [
      'no YAML',
      'exports: [a\nreport: morning\n',
      'unit.yaml, line 2: this is no YAML: Flow sequence in block collection must be sufficiently indented and end with a ]. Mend the line.',
    ],
    [
      'a key twice',
      `${good}report: morning\n`,
      'unit.yaml, line 3: this is no YAML: Map keys must be unique. Mend the line.',
    ],
    [
      'an empty file',
      '',
      'unit.yaml: "exports" is missing. Say where the exports are, as in exports: ../exports, or use --data.',
    ],
    [
      'a list',
      '- a\n',
      'unit.yaml: the file holds no keys. Write keys such as exports: ../exports and report: morning.',
    ],
  ])('is refused with place and fix: %s', async (_what, text, message) => {
    expect(await refusal(text)).toBe(message);
  });

  it('names the option where --set is wrong', async () => {
    expect(await refusal(good, ['segment.icp.minSeconds=-1'])).toBe(
      '--set segment.icp.minSeconds=-1: segment.icp.minSeconds: expected 0 or more seconds, not -1. Mend the value.',
    );
    expect(await refusal(good, ['title'])).toBe(
      '--set title: a key and a value are expected. Write --set key=value.',
    );
    expect(await refusal(good, ['report.kind=x'])).toBe(
      '--set report.kind=x: "report.kind" leads into a value that holds no keys. Look at the key.',
    );
  });

  it('names --set, and not the file, where what it set does not go together', async () => {
    expect(await refusal(good, ['levelling.verticalCm=20', 'levelling.zeroedAt=ear', 'title=Night'])).toBe(
      '--set levelling.verticalCm=20 --set levelling.zeroedAt=ear: levelling: a line that was zeroed at the ear needs no height and no angle. Take them out, or say zeroedAt: heart.',
    );
    expect(
      await refusal(`${good}levelling: {zeroedAt: heart, verticalCm: 20}\n`, ['levelling.zeroedAt=ear']),
    ).toMatch(/^unit\.yaml with --set levelling\.zeroedAt=ear: levelling: a line that was zeroed at the ear/);
    expect(await refusal(good, ['period={from: "2031-02-12 19:00", to: "2031-02-11 19:00"}'])).toBe(
      '--set period={from: "2031-02-12 19:00", to: "2031-02-11 19:00"}: period: from is not before to. Swap the two.',
    );
  });

  it.each([
    [
      'levelling=heart',
      '--set levelling=heart: levelling: expected zeroedAt with verticalCm or heartToEarCm, as {zeroedAt: heart, verticalCm: 20}, not "heart". Mend the value.',
    ],
    [
      'shiftSeconds=40',
      '--set shiftSeconds=40: unknown key "shiftSeconds". Write it as columns.map.shiftSeconds, or that of another channel, for one patient as columns.map.shiftSeconds.305.',
    ],
    [
      'columns.shiftSeconds=40',
      '--set columns.shiftSeconds=40: unknown key "columns.shiftSeconds". Write it as columns.map.shiftSeconds, or that of another channel, for one patient as columns.map.shiftSeconds.305.',
    ],
    ['verticalCm=20', '--set verticalCm=20: unknown key "verticalCm". Write it as levelling.verticalCm.'],
  ])('says where a key belongs: %s', async (set, message) => {
    expect(await refusal(good, [set])).toBe(message);
  });

  it('is looked for by name in pipelines', async () => {
    expect((await loadPipeline('demo')).settings.name).toBe('demo');
    await expect(loadPipeline('nowhere')).rejects.toThrow(
      'there is no pipeline file nowhere. Give the path of a YAML file, or the name of one in the folder pipelines, such as demo.',
    );
  });
});
