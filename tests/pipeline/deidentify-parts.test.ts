import { describe, expect, it } from 'vitest';
import { CODE, Codes, drawShift } from '../../src/pipeline/deidentify/codes.js';

describe('codes', () => {
  it('are the same for a patient, different for others, and of signs that no spreadsheet changes', () => {
    const codes = new Codes();
    const all = Array.from({ length: 2000 }, (_, i) => codes.of(String(i)));
    expect(new Set(all).size).toBe(2000);
    expect(all.every((code) => CODE.test(code))).toBe(true);
    expect(codes.of('7')).toBe(all[7]);
    // Drawn anew, so that two sets cannot be joined.
    expect(new Codes().of('7')).not.toBe(all[7]);
  });

  it('are drawn again where one is taken', () => {
    const draws = [...Array(16).fill(0), ...Array(8).fill(1)];
    const codes = new Codes(() => draws.shift() ?? 2);
    expect([codes.of('a'), codes.of('b')]).toEqual(['P22222222', 'P33333333']);
  });
});

describe('drawShift', () => {
  it('gives each whole day to either side once, and never none', () => {
    expect([0, 1, 2, 3, 4, 5].map((n) => drawShift(3, () => n))).toEqual([-3, -2, -1, 1, 2, 3]);
    const range: number[] = [];
    drawShift(3, (low, high) => range.push(low, high));
    expect(range).toEqual([0, 6]);
  });
});
