import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll } from 'vitest';
import { describeAccessible } from '../support/accessible-pages.js';
import { ROOT } from '../support/cistern.js';
import { smallAudit } from '../support/small-audit.js';
import { smallStudy } from '../support/small-study.js';

const DEMO = join(ROOT, 'reports/demo');
const pages = ['.', 'validation'].flatMap((folder) =>
  readdirSync(join(DEMO, folder))
    .filter((name) => name.endsWith('.html'))
    .map((name) => join(folder, name)),
);

describeAccessible('the pages of the demo, to those who cannot see or point', pages, () => DEMO);

// Maps of few settings: with the usual 256 axe-core weighs the contrast of 1,536 more texts in six maps, in the same seven
// colours, and takes twice as long. The print test has the usual ones.
let audit: string;
beforeAll(async () => {
  audit = await smallAudit(
    '{limitsMmHg: {from: 18, to: 30, step: 4}, delayMinutes: {from: 0, to: 8, step: 4}}',
  );
});
describeAccessible(
  'the page of an audit, to those who cannot see or point',
  ['index.html'],
  () => audit,
  [1100, 360],
);

let study: string;
beforeAll(async () => {
  study = await smallStudy();
});
describeAccessible(
  'the page of a study, to those who cannot see or point',
  ['index.html'],
  () => study,
  [1100, 360],
);
