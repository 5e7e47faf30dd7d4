import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decimalsOf, parseDecimal } from '../../src/ingest/rows/parse-number.js';
import { seeded } from './support.js';

/** Outside check: the StringToNumber of ECMA-262, as the runtime's own Number() does it. */
const expectAsNumber = (text: string): void => {
  expect([text, parseDecimal(text)]).toEqual([text, Number(text)]);
};

const digits = (min: number, max: number) =>
  fc.array(fc.constantFrom(...'0123456789'), { minLength: min, maxLength: max }).map((d) => d.join(''));
const sign = fc.constantFrom('', '-', '+');
const whole = fc.tuple(sign, digits(1, 22)).map(([s, d]) => s + d);
const fractional = fc
  .tuple(sign, digits(0, 12), digits(1, 22))
  .map(([s, before, behind]) => `${s}${before}.${behind}`);
const withExponent = fc
  .tuple(fc.oneof(whole, fractional), fc.constantFrom('e', 'E'), sign, digits(1, 3))
  .map(([mantissa, e, s, exponent]) => mantissa + e + s + exponent);

describe('a decimal in a cell', () => {
  test('is read to the same double as Number() reads it, whatever its length', () => {
    fc.assert(fc.property(fc.oneof(whole, fractional, withExponent), expectAsNumber), seeded(20_000));
  });

  test('is read exactly for every value that a monitor writes with one or two decimals', () => {
    for (let hundredths = -5_000; hundredths <= 35_000; hundredths++) {
      expectAsNumber((hundredths / 100).toFixed(2));
      expectAsNumber((hundredths / 10).toFixed(1));
    }
  });

  test('keeps the sign of a negative zero, as Number() does', () => {
    for (const text of ['-0', '-0.0', '-.0', '-0.']) expect(parseDecimal(text)).toBe(-0);
    for (const text of ['0', '+0', '0.0', '+.0']) expect(parseDecimal(text)).toBe(0);
  });

  test('may lack digits on one side of the point', () => {
    expect(parseDecimal('12.')).toBe(12);
    expect(parseDecimal('.5')).toBe(0.5);
    expect(parseDecimal('-.5')).toBe(-0.5);
  });

  test.each([
    ...['', ' ', '+', '-', '.', '-.', '+.', '--1', '+-1', '1-', '1+1', '1..2', '1.2.3', '..', ' 12', '12 '],
    ...['1,5', '1 000', "1'000", '1_000', '0x1F', '0b11', '0o17', '1e', 'e5', '1e+', '1e5.0', '.e1', '-e1'],
    ...['Infinity', '-Infinity', 'NaN', 'nan', '12 mmHg', '12*', '<5', '\u221212', '\uff11\uff12', '1e5e5'],
  ])('is not found in %j', (text) => {
    expect(parseDecimal(text)).toBeNaN();
  });

  test('is found in no text outside its grammar, and where it is found it is what Number() finds', () => {
    const grammar = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;
    const nearNumbers = fc.string({ unit: fc.constantFrom(...'0159+-.,eE xX'), maxLength: 8 });
    fc.assert(
      fc.property(fc.oneof(nearNumbers, fc.string()), (text) => {
        if (grammar.test(text)) expectAsNumber(text);
        else expect([text, parseDecimal(text)]).toEqual([text, Number.NaN]);
      }),
      seeded(20_000),
    );
  });

  test('is refused in bounded time where half a million digits end in a letter', () => {
    const start = performance.now();
    expect(parseDecimal(`${'1'.repeat(500_000)}x`)).toBeNaN();
    expect(performance.now() - start).toBeLessThan(2_000);
  });
});

describe('the decimals of a cell', () => {
  test.each([
    ['12', 0],
    ['-12', 0],
    ['12.', 0],
    ['12.5', 1],
    ['.5', 1],
    ['12.50', 2],
    ['-0.125', 3],
    ['1.25e1', 1],
    ['1.25E+2', 0],
    ['1.5e3', 0],
    ['1e-1', 1],
    ['1.5e-3', 4],
  ])('are counted in %j as %i', (text, expected) => {
    expect(decimalsOf(text)).toBe(expected);
  });
});
