import { beforeAll, describe, expect, it } from 'vitest';
import type { ArtifactKind } from '../../fixtures/generator/types.js';
import { type Cleaning, clean, cleanedSignal } from '../../src/clean/clean.js';
import { RULES } from '../../src/clean/rules.js';
import { firstAtOrAfter } from '../../src/recording/search.js';
import { doseAboveMmHgHours } from '../../src/summarize/dose.js';
import { type DemoPatient, demoUnit } from '../support/demo-unit.js';

const THRESHOLD = 22;
/** Signal that was lost for hours cannot be had back: the nights of these two are told apart in the truth. */
const SIGNAL_LOST = ['105', '108'];
const DEFAULTS = Object.fromEntries(
  RULES.map(({ name, parameters }) => [name, parameters.parse({}) as object]),
);

interface Cleaned extends DemoPatient {
  readonly cleaning: Cleaning;
}
let patients: readonly Cleaned[] = [];

const isMarked = ({ cleaning }: Cleaned, channel: 'icp' | 'map', t: number): boolean =>
  cleaning.marks.some((mark) => mark.channel === channel && mark.start <= t && t <= mark.end);

// The truth is invented, and labelled as it was invented: see fixtures/README.md. The bars are our own.
describe.each([
  ['with its care log', true],
  ['without it', false],
])('cleaning, on the labelled demo unit %s', (_, hasLog) => {
  beforeAll(async () => {
    const unit = await demoUnit();
    patients = unit.patients.map((patient) => {
      const { care, recording: bare } = patient;
      const recording = hasLog ? { ...bare, care } : bare;
      return { ...patient, recording, cleaning: clean(recording, DEFAULTS) };
    });
  });

  it('reads all of its patients', () => {
    expect(patients.map(({ truth }) => truth.id)).toEqual(
      Array.from({ length: 10 }, (_, i) => String(101 + i)),
    );
  });

  const KINDS: ArtifactKind[] = ['cough', 'turn', 'flush', 'draw', 'zeroing', 'disconnection'];
  it.each(KINDS)('marks at least 90 %% of the labelled seconds of each %s kind', (kind) => {
    let labelled = 0;
    let marked = 0;
    for (const patient of patients) {
      for (const { channel, start, end } of patient.truth.artifacts.filter((one) => one.kind === kind)) {
        for (let t = Date.parse(start); t <= Date.parse(end); t += patient.truth.intervalSeconds * 1000) {
          labelled += patient.truth.intervalSeconds;
          if (isMarked(patient, channel, t)) marked += patient.truth.intervalSeconds;
        }
      }
    }
    expect(labelled).toBeGreaterThan(0);
    expect(marked / labelled).toBeGreaterThanOrEqual(0.9);
  });

  it('marks the pulled probe from its pull to the end as suspect', () => {
    const patient = patients.find(({ truth }) => truth.id === '105')!;
    const [{ start, end }] = patient.truth.artifacts;
    const suspect = patient.cleaning.marks.filter(
      ({ grade, direction }) => grade === 'suspect' && direction === 'down',
    );
    for (let t = Date.parse(start); t <= Date.parse(end); t += 5000) {
      expect(suspect.some((mark) => mark.start <= t && t <= mark.end)).toBe(true);
    }
  });

  it('marks at most 0.5 % of the seconds above 22 mmHg in labelled events', () => {
    let above = 0;
    let marked = 0;
    for (const patient of patients) {
      const { times, values } = patient.recording.channels.icp!.signal;
      const labels = patient.truth.artifacts.filter(({ channel }) => channel === 'icp');
      for (const event of patient.truth.events.filter(({ kind }) => kind !== 'lowCpp')) {
        for (let i = firstAtOrAfter(times, Date.parse(event.start)); times[i] <= Date.parse(event.end); i++) {
          const t = times[i];
          const isLabelled = labels.some(({ start, end }) => Date.parse(start) <= t && t <= Date.parse(end));
          if (values[i] <= THRESHOLD || isLabelled) continue;
          above += patient.truth.intervalSeconds;
          if (isMarked(patient, 'icp', t)) marked += patient.truth.intervalSeconds;
        }
      }
    }
    expect(above).toBeGreaterThan(3600);
    expect(marked / above).toBeLessThanOrEqual(0.005);
  });

  it('marks at most 0.1 % of the seconds of ICP that no label names', () => {
    for (const patient of patients) {
      const { times } = patient.recording.channels.icp!.signal;
      const labels = patient.truth.artifacts
        .filter(({ channel }) => channel === 'icp')
        .map(({ start, end }) => [Date.parse(start), Date.parse(end)]);
      const inside = (t: number, spans: readonly (readonly number[])[]) =>
        spans.some(([start, end]) => start <= t && t <= end);
      const marks = patient.cleaning.marks
        .filter(({ channel }) => channel === 'icp')
        .map(({ start, end }) => [start, end]);
      const wrong = times.filter((t) => inside(t, marks) && !inside(t, labels)).length;
      expect(wrong / times.length, patient.truth.id).toBeLessThanOrEqual(0.001);
    }
  });

  it('leaves the dose of each night within 2 % or 0.02 mmHg.h of the truth', () => {
    let nights = 0;
    for (const { truth, recording, cleaning } of patients) {
      if (SIGNAL_LOST.includes(truth.id)) continue;
      const signal = cleanedSignal(recording, 'icp', cleaning);
      for (const { from, to, trueDoseAbove22MmHgHours: expected } of truth.nights) {
        const window = { start: Date.parse(from), end: Date.parse(to) };
        const dose = doseAboveMmHgHours(signal, window, THRESHOLD);
        const allowed = Math.max(0.02, 0.02 * expected);
        expect(
          Math.abs(dose - expected),
          `${truth.id} from ${from}: ${dose} for ${expected}`,
        ).toBeLessThanOrEqual(allowed);
        nights++;
      }
    }
    expect(nights).toBe(14);
  });

  it('mends what the artifacts did to the dose of the coughing patient', () => {
    const { truth, recording, cleaning } = patients.find((one) => one.truth.id === '104')!;
    const [, night] = truth.nights;
    const window = { start: Date.parse(night.from), end: Date.parse(night.to) };
    const raw = doseAboveMmHgHours(recording.channels.icp!.signal, window, THRESHOLD);
    const cleaned = doseAboveMmHgHours(cleanedSignal(recording, 'icp', cleaning), window, THRESHOLD);
    expect(raw).toBeGreaterThan(0.3);
    expect(cleaned).toBeLessThan(0.02);
  });
});
