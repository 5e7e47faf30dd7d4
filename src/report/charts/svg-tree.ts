/** An element of an SVG that Vega wrote; text stands among the children as it was escaped. */
export interface SvgElement {
  readonly name: string;
  readonly attributes: Map<string, string>;
  children: (SvgElement | string)[];
}

/** The only root element of an SVG text; Vega escapes `<`, `>` and quotes in all values, so that tags can be told. */
export function parseSvg(svg: string): SvgElement {
  const top: SvgElement = { name: '', attributes: new Map(), children: [] };
  const open = [top];
  for (const [, tag, text] of svg.matchAll(/<([^>]*)>|([^<]+)/g)) {
    if (text !== undefined) open[open.length - 1].children.push(text);
    else if (tag.startsWith('/')) open.pop();
    else {
      const attributes = new Map(
        [...tag.matchAll(/([\w:-]+)="([^"]*)"/g)].map(([, key, value]) => [key, value]),
      );
      const element = { name: /^[\w:-]+/.exec(tag)?.[0] ?? '', attributes, children: [] };
      open[open.length - 1].children.push(element);
      if (!tag.endsWith('/')) open.push(element);
    }
  }
  return top.children[0] as SvgElement;
}

/** The text of an element. */
export function writeSvg({ name, attributes, children }: SvgElement): string {
  const start = [name, ...[...attributes].map(([key, value]) => `${key}="${value}"`)].join(' ');
  if (children.length === 0 && name !== 'text') return `<${start}/>`;
  return `<${start}>${children.map((child) => (typeof child === 'string' ? child : writeSvg(child))).join('')}</${name}>`;
}
