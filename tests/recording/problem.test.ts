import { describe, expect, it } from 'vitest';
import { Problem, placeText, shorten } from '../../src/recording/problem.js';

describe('a problem', () => {
  it('is one line that says where, what and what to do', () => {
    const problem = new Problem('"x" is not a number', 'Correct the cell.', {
      file: 'a.csv',
      line: 12,
      column: 'ICP',
    });
    expect(problem.message).toBe('a.csv, line 12, column "ICP": "x" is not a number. Correct the cell.');
    expect(problem.name).toBe('Problem');
  });
  it('says only what and what to do where there is no place', () => {
    expect(new Problem('the file is empty', 'Export it again.').message).toBe(
      'the file is empty. Export it again.',
    );
  });
  it('can be told more exactly where it is, and keeps what it knew', () => {
    const problem = new Problem('the time is blank', 'Fill it.', { column: 'Time' }).at({
      file: 'b.csv',
      line: 3,
    });
    expect(problem.message).toBe('b.csv, line 3, column "Time": the time is blank. Fill it.');
  });
});

describe('text from a file', () => {
  it('loses its line breaks and control characters, so that a message stays one line', () => {
    expect(shorten('a\r\nb\u0007c\u2028d')).toBe('a b c d');
  });
  it('is cut where it is long', () => {
    expect(shorten('x'.repeat(41))).toBe(`${'x'.repeat(40)}...`);
    expect(shorten('x'.repeat(40))).toBe('x'.repeat(40));
    expect(shorten(`${'x'.repeat(39)}\u{1f9e0}`)).toBe(`${'x'.repeat(39)}...`);
  });
  it('stands shortened in a place', () => {
    expect(placeText({ column: `ICP\n${'m'.repeat(50)}` })).toBe(`column "ICP ${'m'.repeat(36)}..."`);
  });
  it('names an empty header too', () => {
    expect(placeText({ file: 'a.csv', column: '' })).toBe('a.csv, column ""');
  });
});
