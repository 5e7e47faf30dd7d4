import type { ComponentChildren, JSX } from 'preact';
import { Fold } from './fold.js';
import { Sideways } from './sideways.js';

interface ChartProps {
  /** An SVG element that our own chart code drew. */
  readonly svg: string;
  /** What the chart shows, for all readers. */
  readonly title: ComponentChildren;
  /** What it says, for a reader who cannot see it. */
  readonly says: string;
  /** A table of what it shows, folded below it. */
  readonly values?: JSX.Element | null | undefined;
  readonly valuesTitle?: string | undefined;
}

/** Marks the drawing as one picture with a text of its own. */
const asPicture = (svg: string, says: string): string => {
  const label = says.replace(/[&<>"]/g, (c) => `&#${c.charCodeAt(0)};`);
  // As a function: in a replacement text, `$'` would stand for the rest of the drawing, quotes and all.
  return svg.replace(/^<svg /, () => `<svg role="img" aria-label="${label}" `);
};

/** A chart with its title; the drawing is the only markup on a page that is not escaped. */
export function Chart({
  svg,
  title,
  says,
  values,
  valuesTitle = 'Hour by hour, as a table',
}: ChartProps): JSX.Element {
  return (
    <figure>
      <figcaption>{title}</figcaption>
      <Sideways kind="drawing" label="Chart">
        <div dangerouslySetInnerHTML={{ __html: asPicture(svg, says) }} />
      </Sideways>
      {values && <Fold title={valuesTitle}>{values}</Fold>}
    </figure>
  );
}

/** A chart inside a table cell or a list. */
export function InlineChart({
  svg,
  says,
  kind,
}: {
  svg: string;
  says: string;
  kind?: 'picture' | undefined;
}): JSX.Element {
  return <div class={kind} dangerouslySetInnerHTML={{ __html: asPicture(svg, says) }} />;
}

/** A swatch of slanted strokes, as charts hatch what is suspect. */
export const hatched = (colour: string): string =>
  `repeating-linear-gradient(120deg, ${colour} 0 1.5px, #fff 1.5px 4px)`;

/** The meaning of a colour, or of strokes, in a chart. */
export function Key({
  colour,
  shape,
  children,
}: {
  colour: string;
  /** An area where nothing is said. */
  shape?: 'line';
  children: ComponentChildren;
}): JSX.Element {
  return (
    <span class="key">
      <i class={shape} style={{ background: colour }} />
      {children}
    </span>
  );
}
