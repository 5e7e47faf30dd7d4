import { shortPath } from './path.js';
import { parseSvg, type SvgElement, writeSvg } from './svg-tree.js';

/** What says nothing in a still picture that the page describes in words. */
const IDLE = [
  'class',
  'role',
  'aria-roledescription',
  'aria-hidden',
  'pointer-events',
  'version',
  'xmlns:xlink',
];
const IDLE_VALUES = new Map([
  ['opacity', '1'],
  ['font-weight', 'normal'],
  ['transform', 'translate(0,0)'],
  ['text-anchor', 'start'],
]);
/** What an element takes from its group where it does not say it. */
const INHERITED = [
  'fill',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'stroke-linejoin',
  'font-family',
  'font-size',
  'text-anchor',
];
const isElement = (child: SvgElement | string): child is SvgElement => typeof child !== 'string';

const rounded = (text: string): string =>
  text.replace(/-?\d+\.\d+/g, (number) => String(Math.round(Number(number) * 100) / 100 || 0));

/** A line and a rectangle begin at 0 anyway; a line of text that begins there has to say so. */
const isIdle = (name: string, key: string, value: string | undefined): boolean =>
  IDLE_VALUES.get(key) === value ||
  (value === '0' && (name === 'line' || name === 'rect') && /^[xy]2?$/.test(key));

/** Shortens what an element says of itself. */
function shorten({ name, attributes }: SvgElement): void {
  for (const key of IDLE) attributes.delete(key);
  for (const [key, value] of attributes) {
    if (key === 'd') attributes.set(key, rounded(shortPath(value)));
    if (key === 'transform' || key === 'x2' || key === 'y2') attributes.set(key, rounded(value));
    if (isIdle(name, key, attributes.get(key))) attributes.delete(key);
  }
}

/** Nothing is drawn of a group without children, nor of a path without a way, a fill or a stroke. */
function isDrawn({ name, attributes, children }: SvgElement): boolean {
  if (attributes.get('display') === 'none') return false;
  if (name === 'g') return children.length > 0;
  return (
    name !== 'path' || (attributes.get('d') !== '' && (attributes.has('fill') || attributes.has('stroke')))
  );
}

/** What all children of a group say alike, the group says once. */
function share(group: SvgElement): void {
  const children = group.children.filter(isElement);
  if (children.length < 2) return;
  for (const key of INHERITED) {
    const value = children[0].attributes.get(key);
    if (value === undefined || group.attributes.has(key)) continue;
    if (!children.every(({ attributes }) => attributes.get(key) === value)) continue;
    group.attributes.set(key, value);
    for (const { attributes } of children) attributes.delete(key);
  }
}

function compact(element: SvgElement): SvgElement[] {
  shorten(element);
  element.children = element.children.flatMap((child): SvgElement['children'] =>
    isElement(child) ? compact(child) : [child],
  );
  if (!isDrawn(element)) return [];
  if (element.name !== 'g') return [element];
  share(element);
  return element.attributes.size === 0 ? element.children.filter(isElement) : [element];
}

/** Clips of the same size are one. */
function withoutTwins(svg: string): string {
  const first = new Map<string, string>();
  const named = new Map<string, string>();
  const rest = svg.replace(/<clipPath id="([^"]+)">(.*?)<\/clipPath>/g, (all, id: string, shape: string) => {
    named.set(id, first.get(shape) ?? id);
    if (first.has(shape)) return '';
    first.set(shape, id);
    return all;
  });
  return rest.replace(
    /clip-path="url\(#([^")]+)\)"/g,
    (_, id: string) => `clip-path="url(#${named.get(id) ?? id})"`,
  );
}

/** The same picture in fewer characters: nothing moves by more than 0.05 px along an axis. */
export function compactSvg(svg: string, font: string): string {
  const root = parseSvg(svg);
  compact(root);
  const dropFont = (element: SvgElement): void => {
    if (element.attributes.get('font-family') === font) element.attributes.delete('font-family');
    element.children.filter(isElement).forEach(dropFont);
  };
  dropFont(root);
  root.attributes.set('font-family', font);
  return withoutTwins(writeSvg(root));
}
