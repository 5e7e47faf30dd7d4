/** The one style sheet of all pages: paper first, dark ink, one column. */
export const STYLE = `
:root { color: #1a1a1a; background: #fff; font: 15px/1.45 Helvetica, Arial, sans-serif; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1.2rem 1rem 3rem; max-width: 64rem; overflow-wrap: break-word; }
header.page { border-bottom: 2px solid #1a1a1a; margin-bottom: 1rem; padding-bottom: .5rem; }
h1 { font-size: 1.45rem; line-height: 1.2; margin: 0 0 .2rem; }
h2 { font-size: 1.08rem; margin: 1.6rem 0 .4rem; break-after: avoid; }
p { margin: .35rem 0; max-width: 75ch; }
a { color: #00527f; }
p.sub, p.small, .small p, .note { max-width: none; }
.sub { color: #4a4a4a; }
.answer { font-size: 1.15rem; line-height: 1.4; margin: .8rem 0; }
.note { border-left: 4px solid #b0005e; padding: .35rem .7rem; margin: .7rem 0; background: #fbf1f6; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; font-variant-numeric: tabular-nums; margin: .4rem 0; }
th, td { padding: .22rem .55rem; text-align: left; vertical-align: top; border-bottom: 1px solid #dcdcdc; }
thead th { border-bottom: 1.5px solid #1a1a1a; vertical-align: bottom; font-weight: 600; }
th.n, td.n { text-align: right; }
td.n { white-space: nowrap; }
th.n { min-width: 4.6em; }
tr.noted th, tr.noted td { border-bottom: 0; }
tr.note-row td { padding-top: 0; font-size: .92rem; }
td svg { min-width: 172px; }
.pair { display: flex; flex-wrap: wrap; gap: 0 1.6rem; align-items: flex-start; }
.pair thead th.n { max-width: 7em; }
.note p { max-width: none; }
.note ul { margin: .2rem 0; padding-left: 1.2rem; }
.picture svg { min-width: 0; }
table.removals, .removals caption { display: block; }
.removals caption { break-after: avoid; break-inside: avoid; }
.removals thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
.removals tbody { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(26rem, 100%), 1fr)); gap: .2rem 1.4rem; }
.removals tr { display: flex; gap: .6rem; align-items: center; border-bottom: 1px solid #dcdcdc; }
.removals td { border: 0; min-width: 0; padding: .15rem 0; font-size: .87rem; line-height: 1.35; }
ul.pictures { display: flex; flex-wrap: wrap; gap: .3rem .8rem; list-style: none; margin: .3rem 0; padding: 0; font-size: .8rem; }
ul.pictures li { width: 174px; }
th[scope=row] { font-weight: 600; white-space: nowrap; }
th[scope=row].long { white-space: normal; min-width: 8em; }
.long { overflow-wrap: anywhere; white-space: normal; }
.wraps th[scope=row] { white-space: normal; min-width: 11em; }
.wraps th, .wraps td { padding-left: .4rem; padding-right: .4rem; }
.wraps th:first-child { padding-left: .2rem; }
.wraps th.n { min-width: 0; }
tr.cannot td, tr.cannot th { background: #fbf1f6; }
tr.past { font-weight: 600; }
caption { text-align: left; color: #4a4a4a; padding-bottom: .3rem; }
figure { margin: .6rem 0; break-inside: avoid; }
figcaption { color: #333; margin-bottom: .3rem; max-width: 104ch; }
figure svg, td svg { display: block; max-width: 100%; height: auto; }
.key { display: inline-block; margin-right: 1.1em; }
.key i { display: inline-block; width: 1.4em; height: .75em; margin-right: .35em; vertical-align: baseline; border: 1px solid #b9b9b9; }
.small { font-size: .87rem; color: #333; }
.cautions { border-top: 1px solid #1a1a1a; margin-top: 2rem; padding-top: .5rem; font-size: .87rem; }
.cautions ul { margin: .3rem 0; padding-left: 1.1rem; }
@page { size: auto; margin: 12mm; }
@media print {
  :root { font-size: 10px; line-height: 1.35; }
  h2 { margin-top: 1rem; }
  th, td { padding-top: .12rem; padding-bottom: .12rem; }
  .cautions { margin-top: 1rem; }
  body { padding: 0; max-width: none; }
  .scroll { overflow: visible; }
  tr, figure { break-inside: avoid; }
  thead { display: table-header-group; }
  a { color: inherit; text-decoration: none; }
  .screen { display: none; }
  .picture svg { width: 140px; }
  ul.pictures { gap: .3rem .6rem; }
  ul.pictures li, ul.pictures svg { width: 132px; }
  .removals tbody { grid-template-columns: 1fr 1fr; }
  th, td { padding-left: .35rem; padding-right: .35rem; }
  th.n { min-width: 0; }
  .pair { gap: 0 1rem; }
  .pair table { font-size: 9.2px; }
}
`;
