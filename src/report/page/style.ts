/** Sizes and colours of text, the header, notes. */
const TEXT = `
:root { color: #1a1a1a; background: #fff; font: 15px/1.45 Helvetica, Arial, sans-serif; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1.2rem 1rem 3rem; max-width: 64rem; overflow-wrap: break-word; }
header.page { border-bottom: 2px solid #1a1a1a; margin-bottom: 1rem; padding-bottom: .5rem; }
nav { display: flex; flex-wrap: wrap; gap: .2rem 1.4rem; margin-top: .3rem; }
h1 { font-size: 1.45rem; line-height: 1.2; margin: 0 0 .2rem; }
h2 { font-size: 1.08rem; margin: 1.6rem 0 .4rem; break-after: avoid; }
h3 { font-size: 1rem; margin: 1.2rem 0 .2rem; break-after: avoid; }
p { margin: .35rem 0; max-width: 75ch; }
ul, ol { margin: .35rem 0; padding-left: 1.2rem; }
a { color: #00527f; }
a:focus-visible, summary:focus-visible, .scroll:focus-visible, .drawing:focus-visible { outline: 3px solid #00527f; outline-offset: 2px; }
p.sub, p.small, .small p, .note, .note p { max-width: none; }
.sub { color: #4a4a4a; }
.answer { font-size: 1.15rem; line-height: 1.4; margin: .8rem 0; }
.note { border-left: 4px solid #b0005e; padding: .35rem .7rem; margin: .7rem 0; background: #fbf1f6; }
.small { font-size: .87rem; color: #333; }
details { margin: .3rem 0; }
summary { cursor: pointer; color: #00527f; width: fit-content; }
pre { white-space: pre-wrap; font: inherit; border-left: 4px solid #dcdcdc; margin: .4rem 0; padding: .1rem .8rem; }
.cautions { border-top: 1px solid #1a1a1a; margin-top: 2rem; padding-top: .5rem; font-size: .87rem; }
.cautions h2 { font-size: 1em; margin: 0; }
.cautions ul { margin: .3rem 0; padding-left: 1.1rem; }
`;

/** Tables: numbers right, heads over their columns, wide ones scroll inside their own box. */
const TABLES = `
.scroll { overflow-x: auto; }
table { border-collapse: collapse; font-variant-numeric: tabular-nums; margin: .4rem 0; }
caption { text-align: left; color: #4a4a4a; padding-bottom: .3rem; }
th, td { padding: .22rem .55rem; text-align: left; vertical-align: top; border-bottom: 1px solid #dcdcdc; }
thead th { border-bottom: 1.5px solid #1a1a1a; vertical-align: bottom; font-weight: 600; }
th.n, td.n { text-align: right; }
td.n { white-space: nowrap; }
th.n { min-width: 4.6em; }
th[scope=row] { font-weight: 600; white-space: nowrap; }
th[scope=row].long { white-space: normal; min-width: 8em; }
.long { overflow-wrap: anywhere; white-space: normal; }
tr.noted th, tr.noted td { border-bottom: 0; }
tr.note-row td { padding-top: 0; font-size: .92rem; }
tr.cannot td, tr.cannot th { background: #fbf1f6; }
tr.past { font-weight: 600; }
.wraps th[scope=row] { white-space: normal; min-width: 11em; }
.wraps th, .wraps td { padding-left: .4rem; padding-right: .4rem; }
.wraps th:first-child { padding-left: .2rem; }
.wraps th.n { min-width: 0; }
td svg { min-width: 172px; }
.beside-each-other { display: flex; flex-wrap: wrap; gap: 0 2.5rem; }
.beside-each-other > * { max-width: 100%; }
.beside-each-other > figure { flex: 0 1 440px; }
`;

/** The flow of patients: boxes below each other, and beside the way from one to the next who was left out. */
const FLOW = `
ol.flow { list-style: none; margin: .8rem 0; padding: 0; max-width: 44rem; break-inside: avoid; }
.flow > li { display: grid; grid-template-columns: 1fr 1fr; }
.flow > li + li::before { content: ""; width: 50%; justify-self: end; border-left: 1.5px solid #1a1a1a; background: linear-gradient(#1a1a1a, #1a1a1a) 0 50% / 100% 1.5px no-repeat; }
.stage, .out { position: relative; border: 1.5px solid #1a1a1a; padding: .35rem .6rem; }
.stage { text-align: center; }
.out { margin: .7rem 0 .7rem 1rem; align-self: center; font-size: .92rem; border-color: #8c8c8c; }
.out::before { content: ""; position: absolute; right: 100%; top: calc(50% - .75px); width: calc(1rem + 2px); border-top: 1.5px solid #1a1a1a; }
.out::after, .flow > li + li .stage::before { content: ""; position: absolute; border: .3rem solid transparent; }
.out::after { right: 100%; top: calc(50% - .3rem); border-left-color: #1a1a1a; border-right: 0; }
.flow > li + li .stage::before { bottom: 100%; left: calc(50% - .3rem); border-top-color: #1a1a1a; border-bottom: 0; }
.out ul { margin: .1rem 0 0; padding-left: 1rem; }
`;

/** Charts, their keys, and the small pictures of removals. */
const CHARTS = `
figure { margin: .6rem 0; break-inside: avoid; }
figcaption { color: #333; margin-bottom: .3rem; max-width: 104ch; }
.drawing { overflow-x: auto; }
figure svg, td svg { display: block; max-width: 100%; height: auto; }
.key { display: inline-block; margin-right: 1.1em; }
.key i { display: inline-block; width: 1.4em; height: .75em; margin-right: .35em; vertical-align: baseline; border: 1px solid #8c8c8c; print-color-adjust: exact; }
.key i.line { height: 2px; vertical-align: middle; border: 0; }
.together { break-inside: avoid-page; }
.picture svg { display: block; min-width: 0; }
ol.removals { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 26rem), 1fr)); gap: .2rem 1.4rem; list-style: none; padding: 0; }
ol.removals li { display: flex; gap: .6rem; align-items: center; border-bottom: 1px solid #dcdcdc; padding: .15rem 0; font-size: .87rem; line-height: 1.35; break-inside: avoid; }
ol.removals li > div:last-child { min-width: 0; }
ul.pictures { display: flex; flex-wrap: wrap; gap: .3rem .8rem; list-style: none; margin: .3rem 0; padding: 0; font-size: .8rem; }
ul.pictures li { width: 174px; break-inside: avoid; }
`;

/**
 * Windows as narrow as 360 pixels, which is also what 200 % zoom leaves of a small screen: drawings keep a size that can be read.
 * That a box slides is said only where it does, as far as a browser can tell: a timeline of scrolling runs only there.
 */
const NARROW = `
@keyframes slides { from, to { --slides: block; } }
@media screen and (max-width: 700px) {
  body { padding: .8rem .7rem 2rem; }
  .drawing svg { width: 640px; max-width: none; }
  .beside-each-other .drawing svg { width: 440px; }
  .unit th:nth-child(2), .unit tr:not(.note-row) td:nth-child(2) { display: none; }
  .drawing::before, .scroll::before { content: "slides sideways"; display: block; color: #4a4a4a; font-size: .8rem; }
  @supports (animation-timeline: scroll()) {
    .drawing, .scroll { animation: slides 1s linear; animation-timeline: scroll(self inline); }
    .drawing::before, .scroll::before { display: var(--slides, none); }
  }
  .beside { position: sticky; left: 0; width: fit-content; max-width: calc(100vw - 2.2rem); }
  .scroll th:first-child { position: sticky; left: 0; background: #fff; white-space: normal; }
  .scroll tr.cannot th:first-child { background: #fbf1f6; }
  th, td { padding-left: .35rem; padding-right: .35rem; }
  th[scope=row] { white-space: normal; min-width: 5.5em; }
}
`;

/** A4 and Letter. */
const PRINT = `
@page {
  size: auto;
  margin: 11mm 12mm 13mm;
  @bottom-left { font: 8px/1.2 Helvetica, Arial, sans-serif; color: #4a4a4a; }
  @bottom-right { content: "Page " counter(page) " of " counter(pages); font: 8px/1.2 Helvetica, Arial, sans-serif; color: #4a4a4a; }
}
@media print {
  :root { font-size: 10.8px; line-height: 1.3; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  p, figcaption { max-width: none; }
  body { padding: 0; max-width: none; }
  h2 { margin-top: 1rem; }
  h3 { margin-top: .8rem; }
  nav, details { display: none; }
  a { color: inherit; text-decoration: none; }
  .cautions { margin-top: .8rem; padding-top: .3rem; break-inside: avoid; }
  .cautions ul { display: contents; }
  .cautions h2, .cautions li { display: inline-block; margin: 0 .6em 0 0; }
  .scroll, .drawing { overflow: visible; }
  thead { display: table-header-group; break-inside: avoid; break-after: avoid; }
  caption { break-after: avoid; break-inside: avoid; }
  tbody tr:first-child, tbody tr:nth-last-child(2) { break-after: avoid; }
  table:not(:has(tbody tr:nth-child(9))) { break-inside: avoid; }
  p { orphans: 3; widows: 3; }
  tr, figure, li { break-inside: avoid; }
  tr.noted { break-after: avoid; }
  th, td { padding: .12rem .35rem; }
  th.n { min-width: 0; }
  .beside-each-other > figure { flex-basis: 47%; }
  .unit td svg { min-width: 0; width: 135px; }
  .picture svg { width: 140px; }
  ol.removals { grid-template-columns: 1fr 1fr; }
  ul.pictures { gap: .3rem .6rem; }
  ul.pictures li, ul.pictures svg { width: 132px; }
}
`;

/** The one style sheet of all pages: paper first, dark ink, one column. */
export const STYLE = [TEXT, TABLES, FLOW, CHARTS, NARROW, PRINT].map((part) => part.trim()).join('\n');
