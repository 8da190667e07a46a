"""The rules of the browser's style sheet: what each element and class of the vocabulary looks like.

Takes  nothing: these are plain texts of CSS.
Gives  `SCREEN`, for every medium, and `PAPER`, what a browser's printer does differently.
Knows  the names of the variables that `page/style_sheet.py` makes of the tokens; holds no colour and no absolute length.

Lengths are `calc` of variables; ems stand only for the proportions of a mark to the words beside it, as in the press.
Every side is named by where reading starts, so that `dir` alone mirrors a page.
"""

SCREEN = """
html { color-scheme: only light; background: var(--white); -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }
head, title, meta { display: none; }
body { margin: 0 auto; padding: var(--edge) var(--edge) calc(2 * var(--edge)); max-width: var(--measure); background: var(--white);
  color: var(--text); font-family: system-ui, sans-serif; font-size: var(--base); overflow-wrap: break-word; }
body, body * { line-height: calc(var(--pitch) * var(--script)); box-sizing: border-box; }
main, section, article, div, header, footer, nav, aside { display: block; }
p, ul, ol, dl, table, figure { margin-block: 0 calc(var(--air) * var(--space-paragraph)); margin-inline: 0; padding: 0; }
strong, em { font-weight: 700; font-style: normal; }
data, time, span { font-style: inherit; }
br { line-height: inherit; }
hr { border: 0; border-block-start: var(--line-rule) solid var(--rule); margin: var(--space-item) 0; }
figure { margin-block-start: var(--space-item); }
figcaption { text-align: inherit; }

/* headings */
h1, h2, h3, h4, caption { text-align: start; text-wrap: balance; break-after: avoid; break-inside: avoid; }
h1, h2 { margin-block: calc(var(--air) * var(--space-section)) var(--space-tight); }
h3, h4, caption { margin-block: calc(var(--air) * var(--space-block)) var(--space-tight); }
h1 { margin-block-end: var(--space-item); }
caption { padding-block-end: var(--space-tight); }
.display { margin-block: calc(var(--air) * var(--space-section)) var(--space-tight); text-wrap: balance; }
.lead, .caution { text-wrap: balance; }
.lead, .caution, .gloss { margin-block-end: var(--space-hair); }
main > :first-child, .box > :first-child, .columns > * > :first-child, .columns > h1, .columns > h2, td > :first-child,
li > :first-child, dd > :first-child { margin-block-start: 0; }

/* colours */
.quiet, dt { color: var(--quiet); }
.leaf { color: var(--leaf); --accent: var(--leaf); }
.ink { color: var(--ink); --accent: var(--ink); --warn: var(--ink); }
.alarm { color: var(--alarm); --accent: var(--alarm); }
.gloss, figcaption { color: var(--quiet); font-weight: 400; }

/* links: a finger must hit a telephone number */
a { color: inherit; text-decoration: underline; text-decoration-thickness: var(--line-rule); text-underline-offset: 0.15em; }
a:focus-visible { outline: calc(2 * var(--line-box)) solid var(--accent); outline-offset: var(--line-box); }
a[href^="tel:"] { display: inline-flex; align-items: center; min-height: var(--touch); white-space: nowrap; }
.contents a { display: inline-block; padding-block: var(--space-item); }
.page-of::before { content: "\\2192"; }
[dir="rtl"] .page-of::before { content: "\\2190"; }
.page-number::before, .page-count::before, .chapter-page::before, .chapter-pages::before { content: "\\2013"; }
[hidden], .if-more { display: none; }

/* groups */
.columns { display: flex; flex-wrap: wrap; align-items: flex-start; row-gap: calc(var(--air) * var(--space-block));
  column-gap: calc(var(--gap, var(--gutter)) * var(--base)); }
.columns > * { flex: var(--share, 1) 1 11em; min-width: 0; }
.columns > figure { flex: 0 1 auto; margin-block-start: 0; }
.columns > figure + * { flex-basis: 7em; }
.columns.middle { align-items: center; row-gap: var(--space-tight); }
.columns.bottom { align-items: flex-end; row-gap: var(--space-tight); }
.centre { text-align: center; }
.end, .number { text-align: end; }

/* boxes */
.box { margin-block: calc(var(--air) * var(--space-block)); padding: calc(0.82 * var(--space-pad)) var(--space-pad);
  border: var(--line-rule) solid var(--hairline); border-radius: var(--radius-box); }
.box.square { border-radius: 0; }
.box.tint { background: var(--leaf-pale); border-color: transparent; }
.box.deadline { background: var(--leaf); border-color: var(--leaf); color: var(--white);
  --text: var(--white); --accent: var(--white); --quiet: var(--white); --rule: var(--moss); --warn: var(--white); --on-accent: var(--leaf); }
.box.alarm { background: var(--alarm-pale); border: var(--line-box) solid var(--alarm); color: var(--ink);
  --accent: var(--alarm); --quiet: var(--slate); --rule: var(--alarm-soft); }
.box.outline { border: var(--line-box) solid var(--ink); }
.box.side-rule { border-width: 0; border-inline-start: calc(2 * var(--line-box)) solid var(--leaf); border-radius: 0; }
.box.side-rule.alarm { border-inline-start-color: var(--alarm); }
.box > :last-child, .columns > * > :last-child { margin-block-end: 0; }

/* furniture: a band stays in sight whatever is scrolled to */
.running, .running p { color: var(--quiet); }
.running p { margin-block-end: 0; }
.running .columns { justify-content: space-between; row-gap: var(--space-hair); }
.running .columns > * { flex: 0 1 auto; }
header.running { padding-block-end: var(--space-item); }
footer.running { margin-block-start: calc(var(--air) * var(--space-section)); }
.band { position: sticky; inset-block-start: 0; z-index: 1; margin: 0 calc(-1 * var(--edge)); padding: var(--space-tight) var(--edge);
  background: var(--ink); color: var(--white); text-align: center; font-weight: 700; font-size: var(--floor);
  --text: var(--white); --accent: var(--white); --quiet: var(--white); --pitch: var(--pitch-lead); }
.band.alarm { background: var(--alarm); color: var(--white); --accent: var(--white); }
.band.leaf { background: var(--leaf); color: var(--white); --accent: var(--white); }
.band p { margin: 0; }
.band:first-child { margin-block-start: calc(-1 * var(--edge)); }
.tab { width: fit-content; margin-inline-start: auto; padding: var(--space-tight) var(--space-item); background: var(--leaf); color: var(--white);
  font-weight: 700; font-size: var(--floor); border-radius: var(--radius-tick); --text: var(--white); --accent: var(--white); --quiet: var(--white); }
.tab p { margin: 0; }

/* spaces: after everything that has its own */
.close { --pitch: var(--pitch-close); }
.tight { margin-block-end: var(--space-tight); }
.airy { margin-block-end: calc(var(--air) * var(--space-section)); }
.flush { margin-block-end: 0; }
.box.tight { margin-block-end: calc(var(--air) * var(--space-block)); padding: calc(0.82 * var(--space-pad-tight)) var(--space-pad-tight); }
.box.flush { margin-block-end: 0; }
.columns.flush { margin-block-end: var(--space-item); }
.columns > .box.box { margin-block: 0; }
main > .tight, .chapter > .tight { margin-block-end: calc(var(--air) * var(--space-block)); }
.chapter { margin-block-start: calc(2 * var(--air) * var(--space-section)); }
.keep { break-inside: avoid; }
.with-next { break-after: avoid; }
.new-page { break-before: page; }
.right-hand { break-before: right; }

/* lists: every item carries its own mark */
ul, ol { list-style: none; }
li { position: relative; margin-block-end: var(--space-item); padding-inline-start: 1.36em; }
.tight > li, li.tight { margin-block-end: var(--space-tight); }
li.flush { margin-block-end: var(--space-tight); }
figure.flush { margin-block-end: var(--space-item); }
li.airy { margin-block-end: calc(var(--air) * var(--space-block)); }
li > p { margin-block: 0; }
li::before, .caution::before { content: ""; position: absolute; inset-inline-start: 0; box-sizing: border-box; --mark: var(--accent);
  width: var(--wide); height: var(--high, var(--wide)); inset-block-start: calc((1em * var(--pitch) * var(--script) - var(--high, var(--wide))) / 2); }
li.mark-bullet { --wide: 0.35em; }
li.mark-bullet::before { background: var(--accent); border-radius: 50%; }
li.mark-bullet { padding-inline-start: 1em; }
li.mark-none::before { display: none; }
li.mark-none { padding-inline-start: 0; }
li.mark-tick { --wide: 0.81em; }
li.mark-tick::before { border: var(--line-rule) solid var(--accent); border-radius: var(--radius-tick); background: var(--white); }
li.mark-triangle, .caution { --wide: 0.88em; --high: 0.79em; }
li.mark-triangle::before, .caution::before { background: var(--warn); clip-path: polygon(50% 0, 100% 100%, 0 100%); }
li.mark-ring { --wide: 0.83em; }
li.mark-ring::before { border: 0.13em solid var(--warn); border-radius: 50%; }
li.mark-cross { --wide: 0.72em; }
li.mark-cross::before { background: var(--warn);
  clip-path: polygon(20% 0, 0 20%, 30% 50%, 0 80%, 20% 100%, 50% 70%, 80% 100%, 100% 80%, 70% 50%, 100% 20%, 80% 0, 50% 30%); }
li.mark-disc, li.mark-decimal { --wide: 1.5em; }
li.mark-disc::before { content: counter(list-item); border-radius: 50%; background: var(--accent); color: var(--on-accent);
  font-size: 0.86em; font-weight: 700; line-height: 1.5; text-align: center; inset-block-start: calc((1.16em * var(--pitch) * var(--script) - 1.5em) / 2); }
li.mark-disc, li.mark-decimal { padding-inline-start: 1.9em; }
li.mark-decimal::before { content: counter(list-item) "."; width: auto; height: auto; inset-block-start: 0; color: var(--accent); font-weight: 700; }
li.mark-drawing::before { display: none; }
li.mark-drawing { padding-inline-start: calc(var(--pictogram) + 0.6 * var(--base)); min-height: calc(var(--pictogram) + var(--space-item)); }
.mark { position: absolute; inset-inline-start: 0; inset-block-start: 0; width: var(--pictogram); }
.caution { position: relative; padding-inline-start: 1.36em; color: var(--alarm); font-weight: 700; break-after: avoid; }
.contents li { padding-inline-start: 0; margin-block-end: 0; }
.contents li li { padding-inline-start: 1.6em; }
.contents li::before { display: none; }

/* words nobody has signed, and what changed */
.draft { position: relative; }
.draft::after { content: ""; position: absolute; inset-inline-start: -0.5em; width: 0.3em; height: 0.3em; transform: rotate(45deg);
  border: var(--line-rule) solid currentColor; inset-block-start: calc((1em * var(--pitch) * var(--script) - 0.3em) / 2); }
.changed { border-inline-end: calc(2 * var(--line-box)) solid var(--ink); padding-inline-end: var(--space-item); }
tr.changed { border-inline-end: 0; }
tr.changed > :last-child { border-inline-end: calc(2 * var(--line-box)) solid var(--ink); }

/* to write on, to tick */
.blank { display: flex; flex-wrap: wrap; align-items: flex-end; column-gap: 0.4em; }
.blank .line { flex: 1 1 6em; min-height: var(--writing-row); border-block-end: var(--line-hair) solid var(--quiet); }
.blank .line + .line, .under .line { flex-basis: 100%; }
.under .label { flex-basis: 100%; color: var(--quiet); font-size: max(var(--floor), var(--size-small)); }
.ticks { display: inline-flex; flex-wrap: wrap; gap: 0.5em; margin-inline-start: 0.4em; vertical-align: -0.1em; }
.ticks > span { width: 1em; height: 1em; border: var(--line-rule) solid var(--accent); border-radius: var(--radius-tick); background: var(--white); }

/* tables: wider than the screen, they scroll in a frame of their own */
.scroll { overflow-x: auto; margin-block-end: calc(var(--air) * var(--space-block)); }
.scroll:focus-visible { outline: var(--line-box) solid var(--accent); }
.scroll > table { margin: 0; }
table { width: 100%; min-width: calc(var(--columns, 1) * 4.4em); border-collapse: collapse; }
thead { break-inside: avoid; display: table-header-group; }
tbody { display: table-row-group; }
tr { break-inside: avoid; }
th, td { padding: var(--space-cell) calc(0.6 * var(--base)); text-align: start; font-weight: 400; vertical-align: baseline; }
th.number, td.number { text-align: end; }
thead th { vertical-align: bottom; }
.tight th, .tight td { padding-block: var(--space-tight); }
.hairline, .unruled, .grid { border-spacing: 0; }
table:not(.grid) tr > :first-child { padding-inline-start: 0; }
table:not(.grid) tr > :last-child { padding-inline-end: 0; }
table:not(.grid):not(.unruled) tr { border-block-end: var(--line-hair) solid var(--rule); }
table:not(.grid):not(.unruled) thead tr:last-child { border-block-end: var(--line-rule) solid var(--quiet); }
table.grid th, table.grid td { border: var(--line-hair) solid var(--rule); vertical-align: middle; }
table.grid { min-width: 0; }
table.grid tbody tr { height: var(--row, var(--writing-row)); }
.middle > td, .middle > th, .middle tbody td, .middle tbody th { vertical-align: middle; }
.bottom > td, .bottom > th, .bottom tbody td, .bottom tbody th { vertical-align: bottom; }
.total > * { font-weight: 700; }
tr.total { border-block-start: var(--line-rule) solid var(--text); }
.shaded, .shaded > th, .shaded > td { background: var(--leaf-pale); }
.shaded > :first-child { padding-inline-start: var(--space-item); }
dl { display: grid; grid-template-columns: minmax(min-content, var(--label, 1fr)) minmax(0, var(--value, 2.4fr)); column-gap: var(--base); }
dt { grid-column: 1; }
dd { grid-column: 2; margin: 0 0 var(--space-item); }
dl.tight > dd { margin-block-end: var(--space-tight); }
dl.hairline > dd { border-block-end: var(--line-hair) solid var(--rule); }

/* drawings: one for a phone, and where the page is wide one that uses its width */
svg { display: block; max-width: 100%; height: auto; font-family: system-ui, sans-serif; }
figure.centre svg { margin-inline: auto; }
figure.end svg { margin-inline-start: auto; }
.when-wide { display: none; }
@media (min-width: $WIDE) { .when-wide { display: block; } .when-narrow { display: none; } }
"""

PAPER = """
@media print {
  * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  html { font-size: $ROOT; }
  /* What stands outside the body is cut off at the margin: the mark of an unsigned line would be lost. */
  body { padding: 0 var(--space-pad-tight); max-width: none; --base: var(--paper, var(--printed)); --air: var(--printed-air); --floor: var(--printed-floor); }
  .fine { font-size: max(var(--fine-floor), var(--size-fine)); }
  .band, .band:first-child { position: static; margin: 0; border-radius: var(--radius-tick); }
  a { text-decoration: none; }
  a[href^="tel:"] { min-height: 0; }
  .scroll { overflow: visible; }
  .box { box-decoration-break: clone; -webkit-box-decoration-break: clone; }
  .columns { flex-wrap: nowrap; }
  .columns > * { flex-basis: 0; min-width: min-content; }
  .columns > figure { flex: var(--share, 1) 1 0; }
  table { min-width: 0; }
  li.flush { margin-block-end: 0; }
  .when-wide { display: block; }
  .when-narrow { display: none; }
  .chapter { break-before: page; margin-block-start: 0; }
  main > .chapter:first-child, body > .chapter:first-of-type { break-before: auto; }
}
"""
