import type { ComponentChildren, JSX } from 'preact';

/** Text in a cell of a table that is wider than the window: it keeps a width at which it can be read, and slides with the table. */
export const Roomy = ({ children }: { readonly children: ComponentChildren }): JSX.Element => (
  <div style={{ minWidth: '13em' }}>{children}</div>
);
