import { readFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Document, isMap, isScalar, isSeq, LineCounter, parseDocument } from 'yaml';
import { EXPORTED_KINDS } from '../recording/channel.js';
import { Problem } from '../recording/problem.js';
import type { LogKind } from './log-schema.js';
import { pipelineSchema } from './pipeline-schema.js';
import { issueProblem } from './schema-issues.js';
import { type Settings, settingsOf } from './settings.js';

/** A pipeline that is ready to run. */
export interface Pipeline {
  /** Folder that the paths of a key are relative to: that of the file, or the working folder for what was typed. */
  readonly baseOf: (key: 'exports' | LogKind) => string;
  readonly settings: Settings;
}

/** What the command line adds to a pipeline file. */
export interface PipelineOptions {
  /** Replaces `exports`; relative to the working folder. */
  readonly data?: readonly string[] | undefined;
  /** `dotted.key=YAML`, each. */
  readonly set?: readonly string[] | undefined;
}

const OWN_PIPELINES = fileURLToPath(new URL('../../pipelines/', import.meta.url));

/** The text of a pipeline file, or of one in a `pipelines` folder by its bare name. */
async function find(given: string): Promise<{ path: string; text: string }> {
  const named = /^[\w-]+$/.test(given)
    ? [join('pipelines', `${given}.yaml`), join(OWN_PIPELINES, `${given}.yaml`)]
    : [];
  for (const path of [given, ...named]) {
    try {
      return { path: resolve(path), text: await readFile(path, 'utf8') };
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      if (code !== 'ENOENT' && code !== 'EISDIR' && code !== 'ENOTDIR') {
        throw new Problem('the pipeline file cannot be read', 'Look at its permissions.', { file: path });
      }
    }
  }
  throw new Problem(
    `there is no pipeline file ${given}`,
    'Give the path of a YAML file, or the name of one in the folder pipelines, such as demo.',
  );
}

const asText = (node: unknown): void => {
  if (isScalar(node) && node.source !== undefined && node.value !== null) node.value = node.source;
};

/** Values that may be given by patient. */
const BY_PATIENT = [
  ['columns', 'time', 'start'],
  ...EXPORTED_KINDS.map((kind) => ['columns', kind, 'shiftSeconds']),
];

/** Patients that stand as keys are text: `007` is no number. */
function keepKeysAsText(document: Document): void {
  for (const path of BY_PATIENT) {
    const node = document.getIn(path, true);
    for (const { key } of isMap(node) ? node.items : []) asText(key);
  }
}

/** Patient numbers and missing marks are text: `007` and `-999` mean their digits, not their values. */
function keepAsText(document: Document): void {
  keepKeysAsText(document);
  for (const path of [['expected'], ['patient', 'id'], ['columns', 'missing']]) {
    const node = document.getIn(path, true);
    for (const one of isSeq(node) ? node.items : [node]) asText(one);
  }
}

/** `map: ART M` as `map: {header: ART M}`, where a `--set` says more of that column. */
function spellOutColumn(document: Document, [first, column, ...rest]: readonly string[]): void {
  if (first !== 'columns' || rest.length === 0) return;
  const node = document.getIn([first, column], true);
  if (isScalar(node) && node.value !== null) {
    document.setIn([first, column], document.createNode({ header: node.value }));
  }
}

/** Puts a `--set` into the document. */
function applySet(document: Document, assignment: string): string[] {
  const where = { file: `--set ${assignment}` };
  const match = /^([^=]+)=([\s\S]*)$/.exec(assignment);
  if (!match) throw new Problem('a key and a value are expected', 'Write --set key=value.', where);
  const path = match[1].trim().split('.');
  // No object can hold it as a key, so it would be gone without a word.
  if (path.includes('__proto__')) {
    throw new Problem(
      '"__proto__" is no key',
      'Write --set key=value with a key of the pipeline file.',
      where,
    );
  }
  const value = parseDocument(match[2]);
  if (value.errors.length > 0) {
    throw new Problem('the value is no YAML', 'Put it into quotes where it holds special characters.', where);
  }
  try {
    spellOutColumn(document, path);
    document.setIn(path, value.contents);
  } catch {
    throw new Problem(`"${match[1]}" leads into a value that holds no keys`, 'Look at the key.', where);
  }
  return path;
}

/** Where the values of a key came from whose values do not go together: the file, `--set`, or both. */
function sourceOf(
  { what }: Problem,
  file: string,
  inFile: ReadonlySet<string>,
  setPaths: readonly { readonly assignment: string; readonly path: readonly string[] }[],
): string {
  const [key] = /^\w+/.exec(what) ?? [''];
  const set = setPaths.filter(({ path }) => path[0] === key).map(({ assignment }) => `--set ${assignment}`);
  if (set.length === 0) return file;
  return inFile.has(key) ? `${file} with ${set.join(' ')}` : set.join(' ');
}

/**
 * Checks and completes the text of a pipeline file. Precedence: --set, file, preset, defaults.
 *
 * @param file its name in messages
 * @throws Problem with file, line, what was expected and the nearest valid word
 */
export function pipelineOf(text: string, file: string, options: PipelineOptions = {}): Settings {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines });
  const [error] = document.errors;
  if (error) {
    const what = error.message.split('\n')[0].replace(/ at line \d+, column \d+:?$/, '');
    throw new Problem(`this is no YAML: ${what}`, 'Mend the line.', { file, line: error.linePos?.[0].line });
  }
  keepKeysAsText(document);
  const inFile = new Set(Object.keys((document.toJS() ?? {}) as object));
  const setPaths = (options.set ?? []).map((assignment) => ({
    assignment,
    path: applySet(document, assignment),
  }));
  keepAsText(document);
  const content = (document.toJS() ?? {}) as Record<string, unknown>;
  const { data = [] } = options;
  if (data.length > 0 && typeof content === 'object') content.exports = [...data];
  const checked = pipelineSchema.safeParse(content);
  if (!checked.success) throw issueProblem(checked.error.issues, { document, lines, file, setPaths });
  try {
    return settingsOf(checked.data, file.replace(/\.ya?ml$/i, ''));
  } catch (problem) {
    throw problem instanceof Problem
      ? problem.at({ file: sourceOf(problem, file, inFile, setPaths) })
      : problem;
  }
}

/**
 * Reads, checks and completes a pipeline file.
 *
 * @param given path of a pipeline file, or the name of one in `pipelines`
 * @throws Problem with file, line, what was expected and the nearest valid word
 */
export async function loadPipeline(given: string, options: PipelineOptions = {}): Promise<Pipeline> {
  const { path, text } = await find(given);
  const settings = pipelineOf(text, basename(path), options);
  const typed = new Set((options.set ?? []).map((assignment) => assignment.split(/[.=]/, 1)[0].trim()));
  if ((options.data ?? []).length > 0) typed.add('exports');
  return { baseOf: (key) => (typed.has(key) ? process.cwd() : dirname(path)), settings };
}
