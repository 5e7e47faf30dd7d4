/**
 * Compares the golden cases with the reports that are expected of them, or takes new reports as expected:
 * `npm run golden`, `npm run golden -- --accept`, `npm run golden -- --accept one-hour`.
 */
import { join } from 'node:path';
import { differencesOf, writeDifferences } from '../golden/differences.js';
import { accept, caseNames, DIFFERENCES, expectedOf, reportIn, runCase } from '../golden/golden-case.js';
import { newFolder } from '../support/cistern.js';

const given = process.argv.slice(2);
const isAccepting = given.includes('--accept');
const wanted = given.filter((word) => word !== '--accept');
const unknown = wanted.filter((name) => !caseNames().includes(name));
if (unknown.length > 0) {
  console.error(`golden: there is no case ${unknown.join(', ')}. Expected are: ${caseNames().join(', ')}.`);
  process.exit(2);
}

let differing = 0;
for (const name of wanted.length > 0 ? wanted : caseNames()) {
  const out = join(newFolder(), name);
  await runCase(name, out);
  const report = reportIn(out);
  const found = differencesOf(report, expectedOf(name));
  if (isAccepting && /a fault of the program/.test(report.get('handover.txt')?.toString('utf8') ?? '')) {
    console.error(`golden: ${name} ends in a fault of the program, and such a report is not accepted.`);
    process.exit(1);
  }
  if (isAccepting) accept(name, report);
  writeDifferences(join(DIFFERENCES, name), report, isAccepting ? [] : found);
  if (found.length === 0) console.log(`${name}: as expected`);
  else if (isAccepting) console.log(`${name}: accepted, with ${found.length} files that differ`);
  else {
    differing += 1;
    console.log(
      `${name}: ${found.length} files differ, see tests/golden/differences/${name}/differences.txt`,
    );
  }
}
process.exitCode = differing > 0 ? 1 : 0;
