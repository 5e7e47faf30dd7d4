import type { ComponentChildren, JSX } from 'preact';

interface SidewaysProps {
  readonly kind: 'scroll' | 'drawing';
  /** What it is, for a reader who comes to it by keyboard. */
  readonly label: string;
  readonly children: ComponentChildren;
}

/** What may be wider than a narrow window: it scrolls inside its own box, also by keyboard. */
export function Sideways({ kind, label, children }: SidewaysProps): JSX.Element {
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset is for forms.
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls has to be reached by keyboard (WCAG 2.1.1).
    <div class={kind} role="group" aria-label={label} tabIndex={0}>
      {children}
    </div>
  );
}
