import type { Mark, Rule } from '../../src/clean/rule.js';
import type { Recording } from '../../src/recording/recording.js';
import { T0 } from './signals.js';

/** What a rule says with its default parameters, or with some of them changed. */
export const findWith = (rule: Rule, recording: Recording, parameters: object = {}) =>
  rule.find(recording, rule.parameters.parse(parameters));

/** Marks as [first second, last second] after T0. */
export const spansOf = (marks: readonly Mark[]): [number, number][] =>
  marks.map(({ start, end }) => [(start - T0) / 1000, (end - T0) / 1000]);

/** A level for so many samples, given by length; levels may be functions of the second within the stretch. */
export const levels = (
  ...parts: readonly (readonly [count: number, level: number | ((k: number) => number)])[]
) =>
  parts.flatMap(([count, level]) =>
    Array.from({ length: count }, (_, k) => (typeof level === 'number' ? level : level(k))),
  );
