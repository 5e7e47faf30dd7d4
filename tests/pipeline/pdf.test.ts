import { spawn } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { delimiter, join } from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { findChromium } from '../../src/pipeline/print/find-chromium.js';
import { onPaper } from '../../src/pipeline/print/paper.js';
import { printPages, unprintedWarnings } from '../../src/pipeline/print/print-pages.js';
import type { RunEvent } from '../../src/pipeline/run-event.js';
import { runPipeline } from '../../src/pipeline/run-pipeline.js';
import { cistern, folderWith, MAIN, newFolder } from '../support/cistern.js';
import { differences } from '../support/compare-folders.js';
import { pdfInfo, sheetsOf } from '../support/poppler.js';
import { hangingProgram, isRunning, script } from '../support/programs.js';
import { unitOf } from '../support/unit.js';

/** The pages of a unit of so many patients, in the order in which they are printed. */
const pagesOf = (patients: number): string[] => [
  'index',
  ...Array.from({ length: patients }, (_, i) => [`patient-${i + 1}`, `patient-${i + 1}_detail`]).flat(),
];
/** All of a report of so many patients that is no PDF. */
const filesOf = (patients: number): string[] => [
  'handover.txt',
  ...pagesOf(patients).map((name) => `${name}.html`),
  'results.json',
  'run.json',
  'tables',
];

const CHROMIUM = '/usr/bin/chromium';
const chmod = (path: string): void => chmodSync(path, 0o755);
const RUN = ['run', 'unit.yaml', '--out', 'report'] as const;

describe('run --pdf', () => {
  afterEach(() => vi.unstubAllEnvs());

  it('prints each page beside it on A4 and leaves nothing else behind', () => {
    const folder = unitOf(2);
    const TMPDIR = newFolder();
    const { status, stderr, progress } = cistern([...RUN, '--pdf'], { cwd: folder, env: { TMPDIR } });
    expect([status, stderr]).toEqual([0, '']);
    expect(progress.at(-1)).toBe('cistern: printing 5 pages');
    const pages = pagesOf(2);
    expect(readdirSync(join(folder, 'report')).sort()).toEqual(
      [...filesOf(2), ...pages.map((name) => `${name}.pdf`)].sort(),
    );
    expect(readdirSync(TMPDIR)).toEqual([]);
    for (const page of pages) {
      const [pdf, html] = ['pdf', 'html'].map((kind) => join(folder, 'report', `${page}.${kind}`));
      const { title, width, height } = pdfInfo(pdf);
      expect(Math.abs(width - 595.28) < 1 && Math.abs(height - 841.89) < 1, `${width} x ${height}`).toBe(
        true,
      );
      expect(title).toBe(/<title>(.*)<\/title>/.exec(readFileSync(html, 'utf8'))?.[1]);
      expect(statSync(pdf).mode).toBe(statSync(html).mode);
      expect(
        sheetsOf(pdf)[0]
          .words.map(({ text }) => text)
          .join(' '),
      ).toContain('night of 11 to 12 February 2031');
      // A path would tell where it was made, and lead nowhere elsewhere.
      expect(readFileSync(pdf, 'latin1')).not.toMatch(/file:|\.printing/);
    }
    const run = JSON.parse(readFileSync(join(folder, 'report', 'run.json'), 'utf8'));
    expect(run.pdf).toEqual({ paper: 'A4' });
    // A later run takes them for its own, and does not keep those of an older report.
    expect(cistern([...RUN], { cwd: folder }).status).toBe(0);
    expect(readdirSync(join(folder, 'report')).filter((name) => name.endsWith('.pdf'))).toEqual([]);
  });

  it('prints on Letter where that is wanted, and changes no other file', async () => {
    const folder = unitOf(1);
    const plain = cistern(['run', 'unit.yaml', '--out', 'plain'], { cwd: folder });
    const printed = cistern([...RUN, '--pdf', '--paper', 'letter'], { cwd: folder });
    expect([plain.status, printed.status]).toEqual([0, 0]);
    const { width, height } = pdfInfo(join(folder, 'report', 'patient-1.pdf'));
    expect([width, height]).toEqual([612, 792]);
    expect(differences(join(folder, 'report'), join(folder, 'plain'), join(newFolder(), 'kept'))).toEqual([
      'index.pdf',
      'patient-1.pdf',
      'patient-1_detail.pdf',
    ]);
    const run = JSON.parse(readFileSync(join(folder, 'plain', 'run.json'), 'utf8'));
    expect(run.pdf).toBeNull();
  });

  it('tells machines of each page', async () => {
    const folder = unitOf(1);
    const { stderr } = cistern([...RUN, '--pdf', '--json-log', '--threads', '1'], { cwd: folder });
    const events = stderr
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(events.map(({ event }) => event)).toEqual([
      'start',
      'done',
      'printing',
      ...pagesOf(1).map(() => 'printed'),
      'written',
    ]);
    expect(events.slice(2, 6)).toMatchObject([
      { pages: 3 },
      { page: 'index.html', finished: 1, of: 3 },
      { page: 'patient-1.html', finished: 2, of: 3 },
      { page: 'patient-1_detail.html', finished: 3, of: 3 },
    ]);
  });

  it.each([
    [
      'no Chromium',
      ['--pdf'],
      { PATH: '', CISTERN_CHROMIUM: '' },
      '--pdf prints with Chromium, and there is none on PATH under the names chromium, chromium-browser, google-chrome, google-chrome-stable. Install chromium, name its program in CISTERN_CHROMIUM, or leave --pdf out and print the pages from any browser.',
    ],
    [
      'a variable that leads nowhere',
      ['--pdf'],
      { CISTERN_CHROMIUM: '/nowhere/chromium' },
      '--pdf prints with the program that CISTERN_CHROMIUM names, and /nowhere/chromium is no program that can be started. Mend the variable, or leave --pdf out and print the pages from any browser.',
    ],
    [
      '--no-pages',
      ['--pdf', '--no-pages'],
      {},
      '--pdf prints pages, and --no-pages leaves them out. Leave out one of the two.',
    ],
    [
      '--paper alone',
      ['--paper', 'A4'],
      {},
      '--paper says what --pdf prints on, and --pdf is not given. Add --pdf, or leave --paper out.',
    ],
  ])('is refused with %s before anything is read', (_what, flags, env, text) => {
    // A pipeline file that is wrong would be told of first by whoever had read it.
    const folder = folderWith({ 'unit.yaml': 'nonsense: true\n' });
    const outcome = cistern([...RUN, ...flags], { cwd: folder, env });
    expect(outcome).toEqual({ status: 2, stdout: '', stderr: `cistern: ${text}\n`, progress: [] });
    expect(readdirSync(folder)).toEqual(['unit.yaml']);
  });

  it('knows two papers', () => {
    const { status, stderr } = cistern([...RUN, '--pdf', '--paper', 'A3'], { cwd: newFolder() });
    expect(status).toBe(2);
    expect(stderr).toContain("argument 'A3' is invalid. A4 or Letter is expected.");
  });

  it('writes the report without what cannot be printed, says which pages and why, and exits 1', () => {
    const folder = unitOf(1);
    const failing = script('echo "[1:2:0101/000000.000000:ERROR] no room in memory." >&2; exit 1');
    const outcome = cistern([...RUN, '--pdf'], { cwd: folder, env: { CISTERN_CHROMIUM: failing } });
    expect(outcome.status).toBe(1);
    expect(outcome.stdout).toContain('1 patient reported');
    expect(outcome.stderr).toBe(
      'cistern: index.html, patient-1.html and patient-1_detail.html could not be printed: the program ended with status 1: no room in memory. The report is whole but for the PDF; print from a browser, or run again.\n',
    );
    expect(readdirSync(join(folder, 'report')).sort()).toEqual(filesOf(1));
  });

  it('prints the others where one page fails', async () => {
    const folder = unitOf(2);
    vi.stubEnv(
      'CISTERN_CHROMIUM',
      script(`case "$*" in *patient-1.html*) exit 3;; *) exec ${CHROMIUM} "$@";; esac`),
    );
    const { unprinted } = await runPipeline(join(folder, 'unit.yaml'), {
      out: join(folder, 'report'),
      pdf: true,
      threads: 1,
    });
    expect(unprinted).toMatchObject([{ page: 'patient-1.html' }]);
    const written = readdirSync(join(folder, 'report')).filter((name) => name.endsWith('.pdf'));
    expect(written).toEqual(['index.pdf', 'patient-1_detail.pdf', 'patient-2.pdf', 'patient-2_detail.pdf']);
  });

  it.each([
    ['writes nothing', 'exit 0'],
    [
      'writes half a PDF',
      'for one; do case $one in --print-to-pdf=*) echo %PDF-1.4 > "$(expr "$one" : "[^=]*=\\(.*\\)")";; esac; done',
    ],
  ])('takes no PDF of a program that ends well and %s', async (_what, lines) => {
    const folder = unitOf(1);
    vi.stubEnv('CISTERN_CHROMIUM', script(lines));
    const { unprinted } = await runPipeline(join(folder, 'unit.yaml'), {
      out: join(folder, 'report'),
      pdf: true,
      threads: 1,
    });
    const why = 'the program ended well and wrote no whole PDF';
    expect(unprinted).toEqual(pagesOf(1).map((name) => ({ page: `${name}.html`, why })));
    expect(existsSync(join(folder, 'report', 'index.pdf'))).toBe(false);
  });

  it('kills a program that takes too long, with what it has started', async () => {
    const folder = unitOf(1);
    const { path, pids } = hangingProgram();
    const temporary = newFolder();
    vi.stubEnv('CISTERN_CHROMIUM', path);
    vi.stubEnv('TMPDIR', temporary);
    const events: RunEvent[] = [];
    // All at once, and long enough for a busy machine to have started them.
    const { unprinted, warnings } = await runPipeline(join(folder, 'unit.yaml'), {
      ...{ out: join(folder, 'report'), pdf: true, printSeconds: 3, threads: 3 },
      onEvent: (event) => events.push(event),
    });
    const why = 'it took over 3 s';
    expect(unprinted.map((one) => one.why)).toEqual([why, why, why]);
    expect(events.at(-2)).toMatchObject({ event: 'printed', finished: 3, of: 3, why });
    expect(warnings).toEqual([
      `index.html, patient-1.html and patient-1_detail.html could not be printed: ${why}. The report is whole but for the PDF; print from a browser, or run again.`,
    ]);
    expect(pids()).toHaveLength(6);
    await vi.waitFor(() => expect(pids().filter(isRunning)).toEqual([]), { timeout: 10_000 });
    expect(readdirSync(temporary)).toEqual([]);
  });

  it('ends what prints when it is interrupted, and leaves the old report', async () => {
    const folder = unitOf(2);
    expect(cistern([...RUN], { cwd: folder }).status).toBe(0);
    const old = readFileSync(join(folder, 'report', 'run.json'), 'utf8');
    const { path, pids } = hangingProgram();
    const child = spawn(process.execPath, [MAIN, ...RUN, '--pdf', '--threads', '2'], {
      cwd: folder,
      env: { ...process.env, CISTERN_CHROMIUM: path },
    });
    let said = '';
    child.stderr.on('data', (text) => {
      said += text;
    });
    const ended = new Promise((resolve) => child.once('close', resolve));
    await vi.waitFor(() => expect(pids()).toHaveLength(4), { timeout: 30_000 });
    child.kill('SIGINT');
    expect(await ended).toBe(130);
    expect(said).toContain('cistern: printing 5 pages\n');
    expect(said).toContain('interrupted; nothing was written. 2 of 2 patients are kept;');
    expect(pids()).toHaveLength(4);
    await vi.waitFor(() => expect(pids().filter(isRunning)).toEqual([]), { timeout: 10_000 });
    expect(readFileSync(join(folder, 'report', 'run.json'), 'utf8')).toBe(old);
    expect(readdirSync(folder).sort()).toEqual(['.report.store', 'exports', 'report', 'unit.yaml']);
  });

  it('that is killed leaves nothing that the next run does not remove', async () => {
    const folder = unitOf(1);
    const { path, pids } = hangingProgram();
    const child = spawn(process.execPath, [MAIN, ...RUN, '--pdf'], {
      cwd: folder,
      env: { ...process.env, CISTERN_CHROMIUM: path, TMPDIR: newFolder() },
      stdio: 'ignore',
    });
    const ended = new Promise((resolve) => child.once('close', resolve));
    await vi.waitFor(() => expect(pids()).toHaveLength(4), { timeout: 30_000 });
    child.kill('SIGKILL');
    await ended;
    for (const pid of pids()) process.kill(pid, 'SIGKILL');
    expect(readdirSync(folder).filter((name) => name.endsWith('.new'))).toHaveLength(1);
    expect(cistern([...RUN], { cwd: folder }).status).toBe(0);
    expect(readdirSync(folder).sort()).toEqual(['.report.store', 'exports', 'report', 'unit.yaml']);
    expect(readdirSync(join(folder, 'report')).sort()).toEqual(filesOf(1));
  });
});

describe('printing a folder', () => {
  const page = (body: string): string =>
    `<!doctype html><html><head><title>t</title></head><body>${body}</body></html>`;
  const options = { chromium: CHROMIUM, paper: 'A4', limitMs: 60_000, atOnce: 2 } as const;

  it('asks nobody on the network', async () => {
    let asked = 0;
    const server = createServer((_request, answer) => {
      asked++;
      answer.end();
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    try {
      const { port } = server.address() as AddressInfo;
      const image = (host: string): string => `<img src="http://${host}:${port}/x.png">`;
      const folder = folderWith({ 'a.html': page(`words ${image('127.0.0.1')}${image('localhost')}`) });
      expect(await printPages(folder, options)).toEqual([]);
      expect(sheetsOf(join(folder, 'a.pdf'))[0].words.map(({ text }) => text)).toEqual(['words']);
      expect(asked).toBe(0);
    } finally {
      server.close();
    }
  });

  it('prints in a folder whose name means something in an address', async () => {
    const folder = join(newFolder(), 'bed #7 %41 ä?');
    mkdirSync(folder);
    writeFileSync(join(folder, 'a.html'), page('words'));
    expect(await printPages(folder, options)).toEqual([]);
    expect(readdirSync(folder)).toEqual(['a.html', 'a.pdf']);
  });

  it('gives up where three pages failed and none was printed', async () => {
    const names = Array.from({ length: 12 }, (_, i) => `p${String(i).padStart(2, '0')}.html`);
    const folder = folderWith(Object.fromEntries(names.map((name) => [name, page('words')])));
    const unprinted = await printPages(folder, { ...options, chromium: script('exit 1'), atOnce: 1 });
    expect(unprinted.map(({ page }) => page)).toEqual(names);
    expect(unprintedWarnings(unprinted)).toEqual([
      'p00.html, p01.html and p02.html could not be printed: the program ended with status 1. The report is whole but for the PDF; print from a browser, or run again.',
      'p03.html, p04.html, p05.html, p06.html, p07.html and 4 other pages could not be printed: not tried, since no page before could be printed. The report is whole but for the PDF; print from a browser, or run again.',
    ]);
  });

  it('ends what a program leaves behind, and tells what it died of', async () => {
    const folder = folderWith({ 'a.html': page('words') });
    const list = join(newFolder(), 'pids');
    const chromium = script(
      `sleep 600 & echo $! > '${list}'
echo '[1:1:FATAL:singleton.cc(1)] Path too long.' >&2
echo '[2:2:ERROR:zygote.cc(1)] Broken pipe' >&2
exit 1`,
    );
    expect(await printPages(folder, { ...options, chromium })).toEqual([
      { page: 'a.html', why: 'the program ended with status 1: Path too long' },
    ]);
    const left = Number(readFileSync(list, 'utf8'));
    await vi.waitFor(() => expect(isRunning(left)).toBe(false), { timeout: 10_000 });
  });

  it('says where no profile can be kept', async () => {
    const folder = folderWith({ 'a.html': page('words') });
    vi.stubEnv('TMPDIR', join(folder, 'nowhere'));
    const unprinted = await printPages(folder, options);
    vi.unstubAllEnvs();
    expect(unprinted[0].why).toBe(
      `${join(folder, 'nowhere')}, the folder for temporary files, cannot be used (ENOENT)`,
    );
    expect(readdirSync(folder)).toEqual(['a.html']);
  });

  it('starts no more at once than it may', async () => {
    const folder = folderWith(
      Object.fromEntries(['a', 'b', 'c', 'd'].map((name) => [`${name}.html`, page('w')])),
    );
    const log = join(newFolder(), 'log');
    const chromium = script(`echo + >> '${log}'; sleep 1; echo - >> '${log}'; exit 1`);
    await printPages(folder, { ...options, chromium, atOnce: 2 });
    let [now, most] = [0, 0];
    for (const mark of readFileSync(log, 'utf8').trim().split('\n')) {
      now += mark === '+' ? 1 : -1;
      most = Math.max(most, now);
    }
    expect(most).toBe(2);
  });
});

describe('the program that prints', () => {
  it('is the one that is named, or the first name on PATH', async () => {
    const folder = folderWith({
      'a/google-chrome': '',
      'b/chromium': '',
      'b/google-chrome': '',
      'b/mine': '',
    });
    for (const name of ['a/google-chrome', 'b/google-chrome', 'b/mine']) chmod(join(folder, name));
    const PATH = ['a', 'b'].map((name) => join(folder, name)).join(delimiter);
    // b/chromium may not be started.
    expect(await findChromium({ PATH })).toBe(join(folder, 'a/google-chrome'));
    chmod(join(folder, 'b/chromium'));
    expect(await findChromium({ PATH })).toBe(join(folder, 'b/chromium'));
    expect(await findChromium({ PATH, CISTERN_CHROMIUM: 'mine' })).toBe(join(folder, 'b/mine'));
    expect(await findChromium({ CISTERN_CHROMIUM: join(folder, 'b/mine') })).toBe(join(folder, 'b/mine'));
    await expect(findChromium({ PATH, CISTERN_CHROMIUM: join(folder, 'a') })).rejects.toThrow(
      'is no program',
    );
  });
});

describe('the printed copy of a page', () => {
  it('names its paper and leads nowhere', () => {
    expect(onPaper('<head></head><a class="x>" href="index.html">a</a><a href="#t">b</a>', 'Letter')).toBe(
      '<head><style>@page { size: Letter; }</style></head><a class="x>">a</a><a href="#t">b</a>',
    );
  });
});
