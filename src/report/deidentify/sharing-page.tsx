import { renderPage } from '../page/page.js';
import { Table } from '../page/table.js';
import { identifierKinds, SHARING_CAUTIONS } from './identifier-kinds.js';
import type { SharingAccount } from './sharing-account.js';
import { readingTheSet, sharedWords, sharingSentence } from './sharing-words.js';

export const SHARING_TITLE = 'What was done to share this set';

const Sentences = ({ list }: { list: readonly string[] }) => (
  <ul>
    {list.map((sentence) => (
      <li key={sentence}>{sentence}</li>
    ))}
  </ul>
);

/** The page that lies in a shared folder, as a whole HTML document. */
export const sharingPage = (account: SharingAccount): string =>
  renderPage({
    title: SHARING_TITLE,
    running: SHARING_TITLE,
    subtitle: `Written by Cistern ${account.version}. ${account.times === 'elapsed' ? 'Times since the start of monitoring.' : 'Dates moved: not Safe Harbor.'}`,
    children: (
      <>
        <p class="answer">{sharingSentence(account)}</p>
        {SHARING_CAUTIONS.map((caution) => (
          <p key={caution}>
            <strong>{caution}</strong>
          </p>
        ))}
        <section>
          <h2>What is in the folder</h2>
          <Sentences list={sharedWords(account)} />
        </section>
        <section>
          <h2>The 18 kinds of identifiers</h2>
          <Table
            caption="Each kind of 45 CFR 164.514(b)(2)(i), by its letter there: what the program did, and what is left to a person"
            kind="wraps"
            columns={[{ head: 'Kind' }, { head: 'What was done' }, { head: 'What is left to a person' }]}
            rows={identifierKinds(account).map(({ letter, name, done, left }) => ({
              key: letter,
              cells: [`${letter}. ${name}`, done, left],
            }))}
          />
        </section>
        <section>
          <h2>How to read it</h2>
          <Sentences list={readingTheSet(account)} />
        </section>
      </>
    ),
  });
