/** Papers that a report is laid out for. */
export const PAPERS = ['A4', 'Letter'] as const;
export type Paper = (typeof PAPERS)[number];

/** A link that leads out of the page; one to a place in it begins with `#`. */
const LINK_AWAY = /(<a\b(?:"[^"]*"|[^">])*?) href="(?!#)[^"]*"/g;

/**
 * A page as it is printed: on a paper, since a program that prints without a person would take its own, and without
 * links to other files, since a PDF would hold them as paths of this machine.
 */
export function onPaper(html: string, paper: Paper): string {
  if (!html.includes('</head>')) throw new Error('a page has no head');
  return html.replace('</head>', `<style>@page { size: ${paper}; }</style></head>`).replace(LINK_AWAY, '$1');
}
