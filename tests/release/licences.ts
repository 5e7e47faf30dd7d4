import { Problem } from '../../src/recording/problem.js';

/** What a release may carry, each with words that its text must have. Those of 0BSD are those of ISC with less asked. */
const ALLOWED: Readonly<Record<string, RegExp>> = {
  MIT: /Permission is hereby granted, free of charge, to any person obtaining a copy/,
  ISC: /Permission to use, copy, modify, and\/or distribute this software for any purpose/,
  '0BSD': /Permission to use, copy, modify, and\/or distribute this software for any purpose/,
  'BSD-2-Clause': /Redistribution and use in source and binary forms, with or without modification/,
  'BSD-3-Clause': /Redistribution and use in source and binary forms, with or without modification/,
  'Apache-2.0': /Apache License,? Version 2\.0/,
  // Given to the public domain: asks for nothing.
  Unlicense: /This is free and unencumbered software released into the public domain/,
};

/** The file of a release with the whole text, which has to be given along and which packages only refer to. */
export const APACHE_TEXT = 'APACHE-2.0.txt';

/** A bundled package with the licence files that travel with it. */
export interface Licensed {
  /** Of the package, below the release. */
  readonly path: string;
  readonly name: string;
  readonly version: string;
  /** As its manifest names it: an SPDX identifier. */
  readonly licence: unknown;
  readonly texts: readonly { readonly file: string; readonly text: string }[];
}

/** Whether a file at the top of a package tells its licence. */
export const isLicenceFile = (name: string): boolean =>
  /^(?:licen[sc]e|copying|notice|copyright)[^/]*$/i.test(name);

/** The files of a package that tell its licence; where none does by its name, its README may hold the text. */
export const licenceFiles = (names: readonly string[]): readonly string[] => {
  const own = names.filter(isLicenceFile);
  return own.length > 0 ? own : names.filter((name) => /^readme(?:\.(?:md|markdown|txt))?$/i.test(name));
};

/**
 * The list of what others wrote, a row a package, that stands in a release.
 *
 * @throws Problem naming every package whose licence is not allowed, is not in it, or is not the one that it names
 */
export function thirdPartyList(packages: readonly Licensed[]): string {
  const wrong = packages.flatMap((one) => faultOf(one) ?? []);
  if (wrong.length > 0) {
    throw new Problem(
      `These packages cannot be given away with a release: ${wrong.join('; ')}`,
      `Allowed are ${Object.keys(ALLOWED).join(', ')}, with the text in the package; take another package`,
    );
  }
  const rows = packages.map(
    ({ path, name, version, licence, texts }) =>
      `| ${name} | ${version} | ${licence} | ${texts.map(({ file }) => `[${file}](${path}/${file})`).join(', ')} |`,
  );
  return `# What others wrote

These packages are inside this release, each under its own licence. Source maps, prose, tests, settings of editors, builds for browsers and sources that do not run were left out of them, and references to optional packages; everything else is as it was published. Some under Apache-2.0 only refer to its text: it is in [${APACHE_TEXT}](${APACHE_TEXT}).

| package | version | licence | text |
| --- | --- | --- | --- |
${rows.join('\n')}
`;
}

function faultOf({ path, licence, texts }: Licensed): string | null {
  const words = typeof licence === 'string' && Object.hasOwn(ALLOWED, licence) ? ALLOWED[licence] : undefined;
  if (words === undefined) return `${path} is under ${JSON.stringify(licence) ?? 'no licence that it names'}`;
  if (texts.length === 0) return `${path} has no file with its licence (${licence})`;
  const flat = texts.map(({ text }) => text.replace(/\s+/g, ' ')).join(' ');
  return words.test(flat) ? null : `${path} is said to be under ${licence}, and its text reads otherwise`;
}
