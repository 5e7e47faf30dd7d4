import type { ComponentChildren, JSX } from 'preact';

/** What a reader may unfold; it is not printed. */
export function Fold({ title, children }: { title: string; children: ComponentChildren }): JSX.Element {
  return (
    <details>
      <summary>{title}</summary>
      {children}
    </details>
  );
}
