import { closest, distance } from 'fastest-levenshtein';
import { type Document, isMap, isNode, isScalar, type LineCounter, stringify } from 'yaml';
import { z } from 'zod';
import { Problem, shorten, type Where } from '../recording/problem.js';
import { levellingSchema } from './levelling-schema.js';
import { NOT_BUILT_YET, pipelineSchema } from './pipeline-schema.js';

/** Where the values that were checked came from. */
interface Source {
  readonly document: Document;
  readonly lines: LineCounter;
  readonly file: string;
  readonly setPaths: readonly { readonly assignment: string; readonly path: readonly string[] }[];
}

type Path = readonly PropertyKey[];
type Issue = z.core.$ZodIssue;
type JsonSchema = { properties?: Record<string, JsonSchema>; anyOf?: JsonSchema[] };

const dotted = (path: Path): string => path.map(String).join('.');

/** The place of a key or value: the line of the file, or the option that set it. */
function placeOf(path: Path, { document, lines, file, setPaths }: Source): Where {
  const set = setPaths.find((one) =>
    one.path.every((part, i) => path[i] === undefined || part === String(path[i])),
  );
  if (set) return { file: `--set ${set.assignment}` };
  const parent = path.length > 1 ? document.getIn(path.slice(0, -1), true) : document.contents;
  const key = isMap(parent)
    ? parent.items.find(({ key }) => isScalar(key) && String(key.value) === String(path.at(-1)))?.key
    : undefined;
  const node = isNode(key) ? key : document.getIn([...path], true);
  const offset = isNode(node) ? node.range?.[0] : undefined;
  return offset === undefined ? { file } : { file, line: lines.linePos(offset).line };
}

/** The keys that the schema allows at a path. */
function keysAt(path: Path): string[] {
  const schema = z.toJSONSchema(pipelineSchema, { io: 'input', unrepresentable: 'any' }) as JsonSchema;
  const into = (at: JsonSchema | undefined, key: string): JsonSchema | undefined =>
    at?.properties?.[key] ?? at?.anyOf?.map((one) => one.properties?.[key]).find(Boolean);
  const at = path.reduce<JsonSchema | undefined>((schemaHere, key) => into(schemaHere, String(key)), schema);
  return [at, ...(at?.anyOf ?? [])].flatMap((one) => Object.keys(one?.properties ?? {}));
}

/** `Did you mean "night"?` where a valid word is near, then all valid words. */
function validWords(word: string, valid: readonly string[]): string {
  if (valid.length === 0) return 'Take it out.';
  // The unit at the end of a key is what people leave out first.
  const bare = new Map(valid.map((one) => [one.replace(/(MmHg|Seconds|Minutes)$/, '').toLowerCase(), one]));
  const wanted = word.replace(/(MmHg|Seconds|Minutes)$/, '').toLowerCase();
  const nearest = closest(wanted, [...bare.keys()]);
  const near = bare.get(nearest);
  const isNear = distance(wanted, nearest) <= Math.max(2, word.length / 3);
  const all = `Valid here: ${valid.join(', ')}.`;
  return isNear ? `Did you mean "${near}"? ${all}` : all;
}

/** Keys that are known by heart, and looked for at the wrong place. */
const ELSEWHERE: Readonly<Record<string, string>> = {
  shiftSeconds:
    'columns.map.shiftSeconds, or that of another channel, for one patient as columns.map.shiftSeconds.305',
  ...Object.fromEntries(Object.keys(levellingSchema.shape).map((key) => [key, `levelling.${key}`])),
};

function unknownKey(path: Path, key: string, source: Source): Problem {
  const whole = [...path, key];
  const where = placeOf(whole, source);
  if (NOT_BUILT_YET.has(dotted(whole))) {
    return new Problem(`"${dotted(whole)}" is not built yet`, 'Take it out for now.', where);
  }
  const what = `unknown key "${shorten(dotted(whole))}"`;
  const place = Object.hasOwn(ELSEWHERE, key) ? ELSEWHERE[key] : undefined;
  if (place !== undefined) return new Problem(what, `Write it as ${place}.`, where);
  return new Problem(what, validWords(key, keysAt(path)), where);
}

/** Unions report each failed branch; the branch that got furthest says best what is wrong. */
function deepest(issue: Issue, path: Path = []): { issue: Issue; path: Path } {
  const here = [...path, ...issue.path];
  if (issue.code !== 'invalid_union') return { issue, path: here };
  const inner = issue.errors
    .flat()
    .map((one) => deepest(one, here))
    .filter((one) => one.path.length > here.length || one.issue.code === 'unrecognized_keys');
  return inner.sort((a, b) => b.path.length - a.path.length)[0] ?? { issue, path: here };
}

/** As the file may write it; JSON knows no infinity, and would say null. */
function valueText(value: unknown): string {
  if (value === undefined || value === null) return 'nothing';
  if (typeof value === 'number' && !Number.isFinite(value)) return stringify(value).trim();
  return shorten(typeof value === 'string' ? `"${value}"` : JSON.stringify(value));
}

/** The first thing that is wrong with a pipeline file, as a sentence with its place. */
export function issueProblem(issues: readonly Issue[], source: Source): Problem {
  const [first] = issues;
  const { issue, path } = deepest(first);
  if (issue.code === 'unrecognized_keys') return unknownKey(path, issue.keys[0], source);
  if (path.length === 0) {
    return new Problem(
      'the file holds no keys',
      'Write keys such as exports: ../exports and report: morning.',
      {
        file: source.file,
      },
    );
  }
  const name = dotted(path);
  const value = toPlain(source.document, path);
  if (value === undefined && path.length === 1) {
    return new Problem(`"${name}" is missing`, missingFix(name), { file: source.file });
  }
  const where = placeOf(value === undefined ? path.slice(0, -1) : path, source);
  if (issue.code === 'invalid_value' && value === undefined) {
    return new Problem(`"${name}" is missing`, validWords('', issue.values.map(String)), where);
  }
  if (issue.code === 'invalid_value') {
    const fix = validWords(String(value), issue.values.map(String));
    return new Problem(`${name}: ${valueText(value)} is no valid value`, fix, where);
  }
  const expected = issue.message.startsWith('expected')
    ? issue.message
    : issue.message.replace(/^Invalid input: (.*?)(, received .*)?$/, '$1');
  return new Problem(`${name}: ${expected}, not ${valueText(value)}`, 'Mend the value.', where);
}

const missingFix = (name: string): string =>
  name === 'exports'
    ? 'Say where the exports are, as in exports: ../exports, or use --data.'
    : 'Add it, as in report: morning.';

function toPlain(document: Document, path: Path): unknown {
  const node = document.getIn([...path], true);
  return isNode(node) ? node.toJS(document) : node;
}
