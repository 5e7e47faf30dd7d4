import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/**
 * Files that take half a minute or more. On a fresh clone nothing tells how long a file takes, and the larger ones would come
 * first: these are small, would come last, and the others' workers would stand idle until they were through.
 */
const LONG =
  /tests\/(?:report\/(?:accessible|hostile\/part-\d|extremes|print|perfusion\/pages)|cluster\/slurm|release\/release|validation\/validation|command-line\/cli|pipeline\/(?:failures|pdf|killed-run|demo)|ingest\/(?:round-trip|mutated\/part-\d))\.test\.tsx?$/;

class LongFilesFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const isLong = ({ moduleId }: TestSpecification): boolean => LONG.test(moduleId);
    return [...sorted.filter(isLong), ...sorted.filter((file) => !isLong(file))];
  }
}

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // One more at once than there are cores: some tests wait for another process. Two more are no faster.
    maxWorkers: availableParallelism() + 1,
    sequence: { sequencer: LongFilesFirst },
  },
});
