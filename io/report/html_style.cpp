#include "io/report/html_style.h"

namespace tabmelt::report {

const char* html_style() {
  return R"css(:root {
  color-scheme: light dark;
  --paper: #fbfaf7; --card: #ffffff; --ink: #1c2025; --quiet: #565d66; --rule: #dad7cf;
  --good: #00694f; --bad: #ad2f00; --stripe: #f4f2ec;
}
@media (prefers-color-scheme: dark) {
  :root {
    --paper: #16191d; --card: #1f2328; --ink: #e9e7e2; --quiet: #a7adb5; --rule: #3a4048;
    --good: #5fcfaa; --bad: #ff9468; --stripe: #262b31;
  }
}
* { box-sizing: border-box; }
body {
  margin: 0 auto; padding: 1.5rem clamp(0.75rem, 3vw, 2.5rem) 4rem; max-width: 84rem;
  background: var(--paper); color: var(--ink);
  font: 1rem/1.5 system-ui, "Segoe UI", Roboto, "Helvetica Neue", Arial, sans-serif;
}
h1 { font-size: 1.6rem; line-height: 1.25; margin: 0 0 0.75rem; }
h2 { font-size: 1.15rem; margin: 2.25rem 0 0.6rem; }
p, ul { margin: 0.5rem 0; max-width: 62rem; }
header { border-left: 0.5rem solid var(--bad); padding: 0.25rem 0 0.25rem 1.1rem; }
header.good { border-color: var(--good); }
.outcome { font-size: 1.15rem; color: var(--quiet); }
.outcome strong { color: var(--bad); margin-right: 0.6rem; }
header.good .outcome strong { color: var(--good); }
.sentence { font-size: 1.2rem; line-height: 1.45; }
.good { color: var(--good); } .bad { color: var(--bad); }
header.good, header.bad { color: inherit; }
table { border-collapse: collapse; width: 100%; background: var(--card); font-size: 0.92rem; }
th, td {
  text-align: left; vertical-align: top; padding: 0.4rem 0.6rem;
  border-bottom: 1px solid var(--rule); overflow-wrap: break-word;
}
th { font-weight: 600; color: var(--quiet); border-bottom-width: 2px; }
tbody tr:nth-child(even) { background: var(--stripe); }
.number { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; }
.detail { color: var(--quiet); }
pre, code { font-family: ui-monospace, "DejaVu Sans Mono", Consolas, monospace; font-size: 0.9em; }
pre {
  background: var(--card); border: 1px solid var(--rule); padding: 0.6rem 0.8rem;
  white-space: pre-wrap; overflow-wrap: anywhere;
}
.pictures { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 34rem), 1fr)); gap: 1rem; }
.pictures figure:first-child { grid-column: 1 / -1; }
figure { margin: 0; background: var(--card); border: 1px solid var(--rule); min-width: 0; }
figure img { display: block; width: 100%; height: auto; }
.full { display: block; cursor: zoom-in; background: #fbfaf7; }
.full:focus-visible { outline: 3px solid var(--good); outline-offset: 2px; }
figcaption { background: var(--card); padding: 0.4rem 0.7rem; font-size: 0.9rem; }
.back { display: none; color: var(--ink); font-weight: 600; }
figure:target {
  position: fixed; inset: 0; z-index: 1; overflow: auto; border: 0; overscroll-behavior: contain;
}
figure:target img { width: auto; max-width: none; margin: 0 auto; }
figure:target .full { cursor: default; width: max-content; margin: 0 auto; }
figure:target figcaption { position: fixed; inset: auto 0 0 0; border-top: 1px solid var(--rule); }
figure:target .back { display: inline-block; padding: 0.3rem 0.6rem; }
@media screen and (max-width: 52rem) {
  table, tbody, tr, td { display: block; }
  thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  tr { padding: 0.5rem 0; border-bottom: 2px solid var(--rule); }
  td, td.number {
    display: grid; grid-template-columns: 8.5rem 1fr; gap: 0.6rem; text-align: left;
    white-space: normal; border: 0; padding: 0.12rem 0.6rem;
  }
  td::before { content: attr(data-column); color: var(--quiet); font-size: 0.85em; }
  td:empty { display: none; }
  td:first-child { display: block; font-weight: 600; }
  td:first-child::before { content: none; }
  .full { overflow-x: auto; }
  figure:not(:target) img { width: 60rem; max-width: none; }
  figure:not(:target) figcaption::after {
    content: "Wider than the screen: drag it sideways, or touch it for full size.";
    display: block; color: var(--quiet); font-size: 0.9em;
  }
}
@media print {
  @page { size: A4; margin: 8mm; }
  :root {
    color-scheme: light;
    --paper: #fff; --card: #fff; --ink: #000; --quiet: #444; --rule: #bbb;
    --good: #00543f; --bad: #8c2600; --stripe: #fff;
  }
  body { padding: 0; max-width: none; font-size: 6.2pt; line-height: 1.2; }
  h1 { font-size: 12pt; margin-bottom: 1.5mm; }
  h2 { font-size: 8pt; margin: 2mm 0 0.8mm; }
  p, ul { margin: 0.6mm 0; max-width: none; }
  ul { padding-left: 3.5mm; }
  .outcome { font-size: 9pt; } .sentence { font-size: 8.5pt; line-height: 1.25; }
  table { font-size: 6pt; }
  th, td { padding: 0.25mm 1mm; border-bottom-width: 0.1mm; }
  th { border-bottom-width: 0.2mm; }
  th.detail, td.detail { display: none; }
  tr, figure, li { break-inside: avoid; }
  h2 { break-after: avoid; }
  main { display: flow-root; columns: 2; column-gap: 5mm; }
  #margins, #pictures { column-span: all; }
  .pictures { grid-template-columns: 1fr 1fr; gap: 1.5mm; }
  figure.unprinted, .back { display: none; }
  .pictures figure:first-child { grid-column: auto; }
  figure img { max-height: 50mm; object-fit: contain; }
  figcaption { padding: 0.4mm 1mm; font-size: 6pt; }
  pre { padding: 0.8mm 1mm; margin: 0.6mm 0; }
  #words { display: none; }
  :is(#defaults, #inputs) tbody { display: block; columns: 2; }
  :is(#defaults, #inputs) thead { display: none; }
  :is(#defaults, #inputs) :is(table, tr) { display: block; }
  :is(#defaults, #inputs) td:not(.detail) { display: inline; border: 0; padding: 0 0.6mm; }
  :is(#defaults, #inputs) td:first-child { padding-left: 0; }
  :is(#defaults, #inputs) td:first-child::after { content: ":"; }
}
)css";
}

}  // namespace tabmelt::report
