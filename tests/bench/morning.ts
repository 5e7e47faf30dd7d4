/**
 * How long a patient's morning report takes: `npm run bench:morning`. Prints figures and judges nothing; each run is a fresh
 * process, so that nothing is warm. Start-up is the time until the program's modules are loaded.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

const RUNS = 5;
const LIBRARY = new URL('../../dist/index.js', import.meta.url).href;
const DRAWING = new URL('../../dist/report/charts/render.js', import.meta.url).href;

/** A made-up export at 1 Hz: a slow wave with noise and a cough every ten minutes. */
function exportCsv(rows: number): string {
  const random = xoroshiro128plus(20310211);
  const noise = (): number => (random.next() % 1000) / 1000;
  const start = Date.UTC(2031, 1, 11, 19);
  const lines = ['Time,ICP (mmHg),ABP mean (mmHg)'];
  for (let second = 0; second < rows; second++) {
    const time = new Date(start + second * 1000).toISOString().slice(0, 19).replace('T', ' ');
    const cough = second % 600 < 8 ? 25 : 0;
    const icp = 15 + 6 * Math.sin(second / 3000) + noise() + cough;
    const map = 85 + 5 * Math.sin(second / 1100) + noise() * 2 + cough / 3;
    lines.push(`${time},${icp.toFixed(1)},${map.toFixed(0)}`);
  }
  return `${lines.join('\n')}\n`;
}

const CHILD = `
const start = performance.now();
const { runPipeline } = await import(${JSON.stringify(LIBRARY)});
await import(${JSON.stringify(DRAWING)});
const loaded = performance.now();
await runPipeline(process.argv[1], { out: process.argv[2] });
const memoryMb = process.resourceUsage().maxRSS / 1024;
console.log(JSON.stringify({ startUp: loaded - start, run: performance.now() - loaded, memoryMb }));
`;

interface Timing {
  startUp: number;
  run: number;
  memoryMb: number;
}

const median = (values: number[]): number => values.toSorted((a, b) => a - b)[values.length >> 1];

function measure(name: string, rows: number): void {
  const folder = mkdtempSync(join(tmpdir(), 'cistern-bench-'));
  writeFileSync(join(folder, '1.csv'), exportCsv(rows));
  writeFileSync(join(folder, 'unit.yaml'), 'exports: 1.csv\nreport: morning\n');
  const timings = Array.from({ length: RUNS }, (): Timing => {
    const child = spawnSync(
      process.execPath,
      ['--input-type=module', '-e', CHILD, join(folder, 'unit.yaml'), join(folder, 'out')],
      { encoding: 'utf8' },
    );
    if (child.status !== 0) throw new Error(child.stderr);
    return JSON.parse(child.stdout) as Timing;
  });
  rmSync(folder, { recursive: true });
  const show = (pick: (timing: Timing) => number): string => {
    const values = timings.map(pick);
    return `${median(values).toFixed(0)} (${Math.min(...values).toFixed(0)} to ${Math.max(...values).toFixed(0)})`;
  };
  console.log([name, rows, show((t) => t.startUp), show((t) => t.run), show((t) => t.memoryMb)].join(' | '));
}

console.log(
  `${cpus()[0]?.model}, ${availableParallelism()} cores, Node ${process.version}; medians of ${RUNS} runs (range)`,
);
console.log('what | rows | start-up ms | report ms | peak MB');
measure('a night at 1 Hz', 43_200);
measure('5 days at 1 Hz', 432_000);
