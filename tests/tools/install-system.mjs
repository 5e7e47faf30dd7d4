// Installs what the tests need beside npm packages: numpy, scipy, pandas, R with data.table, survival, pROC, MASS and
// brglm2, and the system's zone data as outside references, git to ask what is committed, GNU time to measure with,
// Chromium to look at pages, poppler-utils to look at what it prints, Slurm with its authentication to run a cluster of this
// machine alone.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

const output = (command, ...args) => spawnSync(command, args, { encoding: 'utf8' }).stdout ?? '';
const works = (command, ...args) => spawnSync(command, args, { stdio: 'ignore' }).status === 0;
const wanted = [
  {
    name: 'python3-numpy',
    here: () => ['/usr/bin/python3', 'python3'].some((p) => works(p, '-c', 'import numpy; numpy.array')),
  },
  {
    name: 'python3-scipy',
    here: () =>
      ['/usr/bin/python3', 'python3'].some((p) => works(p, '-c', 'import scipy.stats; scipy.stats.pearsonr')),
  },
  {
    name: 'python3-pandas',
    here: () => ['/usr/bin/python3', 'python3'].some((p) => works(p, '-c', 'import pandas; pandas.read_csv')),
  },
  { name: 'r-base-core', here: () => works('Rscript', '-e', 'stopifnot(getRversion() >= "4.0")') },
  { name: 'r-cran-data.table', here: () => works('Rscript', '-e', 'data.table::fread') },
  { name: 'r-cran-survival', here: () => works('Rscript', '-e', 'survival::survfit') },
  { name: 'r-cran-proc', here: () => works('Rscript', '-e', 'pROC::roc') },
  { name: 'r-cran-mass', here: () => works('Rscript', '-e', 'MASS::polr') },
  { name: 'r-cran-brglm2', here: () => works('Rscript', '-e', 'brglm2::brglmFit') },
  { name: 'r-cran-jsonlite', here: () => works('Rscript', '-e', 'jsonlite::toJSON') },
  { name: 'r-cran-openssl', here: () => works('Rscript', '-e', 'openssl::sha256') },
  { name: 'git', here: () => works('git', '--version') },
  // The shell's own word of that name measures no memory.
  { name: 'time', here: () => works('/usr/bin/time', '-f', '%M', 'true') },
  { name: 'tzdata', here: () => existsSync('/usr/share/zoneinfo/Europe/Oslo') },
  { name: 'poppler-utils', here: () => works('pdftotext', '-v') && works('pdfinfo', '-v') },
  { name: 'chromium', here: () => existsSync('/usr/bin/chromium') },
  // Of the widths of Helvetica and Arial, which pages ask for: wider ones would need more room than a page has.
  { name: 'fonts-liberation', here: () => output('fc-match', 'Helvetica').includes('Liberation') },
  {
    name: 'slurm-wlm',
    // Its commands do not even tell their version where no cluster is configured; its daemons do.
    here: () =>
      ['/usr/sbin/slurmctld', '/usr/sbin/slurmd'].every((path) => works(path, '-V')) &&
      existsSync('/usr/bin/sbatch'),
  },
  { name: 'munge', here: () => works('/usr/sbin/munged', '--version') },
];

const missing = wanted.filter(({ here }) => !here()).map(({ name }) => name);
if (missing.length > 0) {
  if (!existsSync('/usr/bin/apt-get')) {
    console.error(`The tests need ${missing.join(' and ')}; install them by hand, then run "npm run check".`);
    process.exit(1);
  }
  const asRoot = process.getuid?.() === 0 ? [] : ['sudo'];
  const run = (...args) => {
    const [command, ...rest] = [...asRoot, 'apt-get', ...args];
    const { status } = spawnSync(command, rest, {
      stdio: 'inherit',
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    });
    if (status !== 0) process.exit(1);
  };
  console.log(`Installing ${missing.join(' and ')} with apt-get.`);
  run('update', '-qq');
  run('install', '-y', '-qq', '--no-install-recommends', ...missing);
}
