import { ARTIFACT_KINDS, EVENT_KINDS } from '../../../fixtures/labelled/kinds.js';
import { groupBy, sumOf } from '../group.js';
import type { KindRow } from '../measure/rows.js';

/** Something that went wrong, so that a reader can make the patient and look. */
export interface Example {
  readonly seed: number;
  readonly samplingSeconds: number;
  readonly atSecond: number;
  readonly seconds: number;
  readonly rule: string;
}

/** Counts of one kind over all patients. */
export interface KindSummary {
  readonly kind: string;
  readonly grade: string;
  readonly events: number;
  readonly eventsHolding: number;
  readonly eventsRemoved: number;
  readonly eventsSuspect: number;
  readonly eventsEither: number;
  readonly seconds: number;
  readonly secondsRemoved: number;
  readonly secondsSuspect: number;
  /** The worst patients, one example each. */
  readonly worst: readonly Example[];
}

const EXAMPLES = 3;
const ORDER: readonly string[] = [...ARTIFACT_KINDS, ...EVENT_KINDS, 'baseline', 'quiet'];

/** Adds up rows; the kind and grade are those of the first unless they are given. */
export function addUp(rows: readonly KindRow[], kind: string, grade: string): KindSummary {
  const worst = rows
    .flatMap(({ seed, samplingSeconds, worstAtSecond, worstSeconds, worstRule }): Example[] =>
      worstAtSecond === null
        ? []
        : [{ seed, samplingSeconds, atSecond: worstAtSecond, seconds: worstSeconds ?? 0, rule: worstRule }],
    )
    .sort((a, b) => b.seconds - a.seconds || a.seed - b.seed || a.samplingSeconds - b.samplingSeconds)
    .slice(0, EXAMPLES);
  return {
    kind,
    grade,
    events: sumOf(rows, (row) => row.events),
    eventsHolding: sumOf(rows, (row) => row.eventsHolding),
    eventsRemoved: sumOf(rows, (row) => row.eventsRemoved),
    eventsSuspect: sumOf(rows, (row) => row.eventsSuspect),
    eventsEither: sumOf(rows, (row) => row.eventsEither),
    seconds: sumOf(rows, (row) => row.seconds),
    secondsRemoved: sumOf(rows, (row) => row.secondsRemoved),
    secondsSuspect: sumOf(rows, (row) => row.secondsSuspect),
    worst,
  };
}

/** A summary a kind and grade, in the order of the words; grade removed before suspect. */
export function byKind(rows: readonly KindRow[]): KindSummary[] {
  return [...groupBy(rows, ({ kind, grade }) => `${kind} ${grade}`).values()]
    .map((group) => addUp(group, group[0].kind, group[0].grade))
    .sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind) || (a.grade < b.grade ? -1 : 1));
}

/** Artifacts that last for hours, beside which all coughs together are minutes. */
export const isLong = ({ kind }: { readonly kind: string }): boolean =>
  kind === 'flatline' || kind === 'openDrain';

/** Blanks are told apart: nothing is known there anyway. */
export const isTrivial = ({ kind }: { readonly kind: string }): boolean => kind === 'disconnection';
