import { describe, expect, it } from 'vitest';
import { pageNames } from '../../src/pipeline/page-name.js';
import { CORPUS, PIPELINE_ONLY } from '../report/hostile/corpus.js';

describe('the file names of the pages of a patient', () => {
  it('are plain whatever the id, and different for different ids', () => {
    const ids = [...new Set([...CORPUS, ...PIPELINE_ONLY, '\ud83d', '\ud83e'])];
    const names = ids.flatMap((id) => Object.values(pageNames(id)));
    for (const name of names)
      expect(name).toMatch(/^patient-[a-z0-9-]*(?:_[0-9a-f]{10})?(?:_detail)?\.html$/);
    expect(new Set(names.map((name) => name.toLowerCase())).size).toBe(2 * ids.length);
  });
});
