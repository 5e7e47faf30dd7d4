import { describe, expect, it } from 'vitest';
import { pageName } from '../../src/pipeline/page-name.js';
import { CORPUS, PIPELINE_ONLY } from '../report/hostile/corpus.js';

describe('the file name of a page', () => {
  it('is plain whatever the id, and different for different ids', () => {
    const ids = [...new Set([...CORPUS, ...PIPELINE_ONLY, '\ud83d', '\ud83e'])];
    const names = ids.map(pageName);
    for (const name of names) expect(name).toMatch(/^patient-[a-z0-9-]*(?:_[0-9a-f]{10})?\.html$/);
    expect(new Set(names.map((name) => name.toLowerCase())).size).toBe(ids.length);
  });
});
