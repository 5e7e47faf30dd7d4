import * as vega from 'vega';
import { compile, type TopLevelSpec } from 'vega-lite';
import { compactSvg } from './compact.js';
import { COLOURS } from './palette.js';
import type { Draw, Spec } from './spec.js';

const FONT = 'Helvetica, Arial, sans-serif';

const CONFIG = {
  background: 'white',
  font: FONT,
  // The page describes each chart in words; a role on every mark would only repeat that.
  aria: false,
  // A missing value breaks a line: gaps are drawn as gaps.
  mark: { invalid: 'break-paths-show-domains' },
  view: { stroke: null },
  axis: {
    labelFont: FONT,
    titleFont: FONT,
    labelFontSize: 11,
    titleFontSize: 11,
    titleFontWeight: 'normal',
    labelColor: COLOURS.ink,
    titleColor: COLOURS.ink,
    gridColor: COLOURS.grid,
    domainColor: COLOURS.removed,
    tickColor: COLOURS.removed,
  },
} as const;

/** The SVG of a spec as Vega writes it. */
export async function vegaSvg(spec: Spec): Promise<string> {
  const { spec: full } = compile({ ...spec, config: CONFIG } as unknown as TopLevelSpec);
  const view = new vega.View(vega.parse(full), { renderer: 'none', logLevel: vega.Error });
  const svg = await view.toSVG();
  view.finalize();
  return svg;
}

/** Draws a spec in this thread. Vega numbers its ids by process, so they are rewritten to the key. */
export const renderSvg: Draw = async (spec, key) => rewriteIds(compactSvg(await vegaSvg(spec), FONT), key);

/** A tag as it is written: texts have their brackets escaped, and quotes not, so that only here an id is one. */
const TAG = /<[a-z][^<>]*>/gi;

/** Gives every id of an SVG, and every reference to one, a name made of the key and its place. */
export function rewriteIds(svg: string, key: string): string {
  const idsOf = (tag: string): string[] => [...tag.matchAll(/\bid="([^"]+)"/g)].map((match) => match[1]);
  const ids = [...new Set((svg.match(TAG) ?? []).flatMap(idsOf))];
  const named = new Map(ids.map((id, i) => [id, `${key}-${i + 1}`]));
  return svg.replace(TAG, (tag) =>
    tag
      .replace(/\bid="([^"]+)"/g, (_, id: string) => `id="${named.get(id)}"`)
      .replace(/url\(#([^)]+)\)/g, (all, id: string) => (named.has(id) ? `url(#${named.get(id)})` : all))
      .replace(/href="#([^"]+)"/g, (all, id: string) => (named.has(id) ? `href="#${named.get(id)}"` : all)),
  );
}
