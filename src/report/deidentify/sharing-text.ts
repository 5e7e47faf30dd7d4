import { CAUTIONS } from '../page/cautions.js';
import { identifierKinds, SHARING_CAUTIONS } from './identifier-kinds.js';
import type { SharingAccount } from './sharing-account.js';
import { readingTheSet, sharedWords, sharingSentence } from './sharing-words.js';

const WIDTH = 88;

/** A sentence in lines that fit a terminal, those behind the first set in. */
function wrapped(text: string, first = '', rest = first): string {
  const lines: string[] = [];
  let line = first;
  for (const word of text.split(' ')) {
    const isStart = line === first || line === rest;
    if (!isStart && line.length + 1 + word.length > WIDTH) {
      lines.push(line);
      line = rest + word;
    } else line += isStart ? word : ` ${word}`;
  }
  return [...lines, line].join('\n');
}

const items = (list: readonly string[]): string => list.map((one) => wrapped(one, '- ', '  ')).join('\n');

/** README.txt of a shared folder: the same as the page, in plain text. */
export const sharingText = (account: SharingAccount): string =>
  [
    'DE-IDENTIFIED SET',
    wrapped(sharingSentence(account)),
    items(SHARING_CAUTIONS),
    'WHAT IS IN THE FOLDER',
    items(sharedWords(account)),
    'THE 18 KINDS OF IDENTIFIERS (45 CFR 164.514(b)(2)(i))',
    ...identifierKinds(account).map(({ letter, name, done, left }) =>
      [`${letter}. ${name}`, wrapped(`Done: ${done}`, '   '), wrapped(`Left: ${left}`, '   ')].join('\n'),
    ),
    'HOW TO READ IT',
    items(readingTheSet(account)),
    'CAUTIONS',
    items(CAUTIONS),
    `Written by Cistern ${account.version}.`,
    '',
  ]
    .join('\n\n')
    .replace(/\n\n$/, '\n');
