import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describeAccessible } from '../support/accessible-pages.js';
import { ROOT } from '../support/cistern.js';

const DEMO = join(ROOT, 'reports/demo');
const pages = ['.', 'validation'].flatMap((folder) =>
  readdirSync(join(DEMO, folder))
    .filter((name) => name.endsWith('.html'))
    .map((name) => join(folder, name)),
);

describeAccessible('the pages of the demo, to those who cannot see or point', pages, () => DEMO);
