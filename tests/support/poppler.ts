import { spawnSync } from 'node:child_process';

/** Runs a tool of poppler; a machine without it fails with the name of what to install. */
function poppler(tool: string, ...args: readonly string[]): string {
  const { status, stdout, stderr, error } = spawnSync(tool, args, { encoding: 'utf8', maxBuffer: 1 << 28 });
  if (error) throw new Error(`this test needs ${tool}: install poppler-utils (npm run verify does)`);
  if (status !== 0) throw new Error(`${tool} ${args.join(' ')}: ${stderr}`);
  return stdout;
}

/** What a PDF says of itself. */
export interface PdfInfo {
  readonly title: string;
  readonly sheets: number;
  /** Of the first sheet, in points of 1/72 inch. */
  readonly width: number;
  readonly height: number;
}

export function pdfInfo(path: string): PdfInfo {
  const text = poppler('pdfinfo', path);
  const field = (name: string): string => new RegExp(`^${name}:\\s*(.*)$`, 'm').exec(text)?.[1] ?? '';
  const [width, height] = field('Page size').split(' x ').map(Number.parseFloat);
  return { title: field('Title'), sheets: Number(field('Pages')), width, height };
}

/** A word on a sheet, in points from its upper left corner. */
export interface Word {
  readonly text: string;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** A sheet of a PDF with its words in the order in which they are drawn. */
export interface Sheet {
  readonly width: number;
  readonly height: number;
  readonly words: readonly Word[];
}

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };
const SHEET = /<page width="([\d.]+)" height="([\d.]+)">([\s\S]*?)<\/page>/g;
const WORD = /<word xMin="(-?[\d.]+)" yMin="(-?[\d.]+)" xMax="(-?[\d.]+)" yMax="(-?[\d.]+)">([^<]*)<\/word>/g;

/** The sheets of a PDF with the words on them. */
export const sheetsOf = (path: string): Sheet[] =>
  [...poppler('pdftotext', '-bbox-layout', path, '-').matchAll(SHEET)].map(([, width, height, content]) => ({
    width: Number(width),
    height: Number(height),
    words: [...content.matchAll(WORD)].map(([, left, top, right, bottom, text]) => ({
      text: text.replace(/&(\w+);/g, (all, name: string) => ENTITIES[name] ?? all),
      left: Number(left),
      top: Number(top),
      right: Number(right),
      bottom: Number(bottom),
    })),
  }));
