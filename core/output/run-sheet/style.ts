/**
 * How the run sheet looks: a workshop card on A4, quiet, made to be read at arm's length and copied in black and
 * white. Nothing in it depends on colour, and nothing on a printer that paints backgrounds.
 */

/** A4 (ISO 216) less the margins. */
export const PAGE = { widthMm: 186, heightMm: 273, marginMm: 12 } as const;

export const STYLE = `
@page { size: A4 portrait; margin: ${PAGE.marginMm}mm; }
* { box-sizing: border-box; margin: 0; padding: 0; }
html { background: #fff; color: #111; }
body { width: ${PAGE.widthMm}mm; margin: 0 auto; font: 8.8pt/1.3 "Helvetica Neue", Helvetica, Arial, "Liberation Sans", sans-serif; font-variant-numeric: tabular-nums; }
@media screen { body { padding: ${PAGE.marginMm}mm 0; } }
header { display: flex; justify-content: space-between; align-items: flex-end; gap: 6mm; border-bottom: 0.5mm solid #111; padding-bottom: 2mm; margin-bottom: 4mm; }
h1 { font-size: 17pt; line-height: 1.1; overflow-wrap: anywhere; }
h2 { font-size: 8.8pt; margin-bottom: 0.6mm; }
header p { margin-top: 1mm; }
.blank { flex: none; width: 58mm; font-size: 8pt; }
.blank span { display: block; border-bottom: 0.15mm solid #777; height: 5.2mm; padding-top: 1.4mm; color: #444; }
.work { display: flex; flex-wrap: wrap; gap: 3mm 7mm; margin-bottom: 4mm; }
/* As a table, so that the caption is no wider than the picture. */
figure { flex: none; align-self: flex-start; display: table; }
figure svg { display: block; }
figcaption { display: table-caption; caption-side: bottom; min-width: 40mm; font-size: 7.6pt; color: #333; padding-top: 0.6mm; }
.setup { flex: 1 1 58mm; }
dl { display: grid; grid-template-columns: auto 1fr; gap: 0.6mm 3mm; margin-bottom: 3mm; }
dt { color: #444; }
dd { overflow-wrap: anywhere; }
dd.sum { border-top: 0.2mm solid #111; font-weight: bold; }
dl.time { grid-template-columns: 1fr auto; }
dl.time dd { text-align: right; }
table { width: 100%; border-collapse: collapse; margin-bottom: 3mm; }
th, td { text-align: right; padding: 0.3mm 1.5mm; border-bottom: 0.15mm solid #999; vertical-align: middle; white-space: nowrap; }
th, thead td { font-size: 7.6pt; font-weight: normal; color: #444; border-bottom: 0.3mm solid #111; vertical-align: bottom; }
thead th { white-space: normal; }
th.text, td.text { text-align: left; }
/* Names may be of any length: they give way to the figures. */
td.name { text-align: left; white-space: normal; overflow-wrap: anywhere; }
td svg { display: block; }
tr { break-inside: avoid; }
thead { display: table-header-group; }
tfoot { display: table-row-group; }
tfoot td, tfoot th { border-top: 0.3mm solid #111; border-bottom: none; font-weight: bold; font-size: 8.8pt; color: #111; vertical-align: middle; }
table.many { font-size: 7.6pt; line-height: 1.15; }
table.many td { padding-top: 0.2mm; padding-bottom: 0.2mm; }
section { break-inside: avoid; font-size: 8.2pt; overflow-wrap: anywhere; margin-top: 2.5mm; }
li { margin-left: 3.6mm; }
.careful { border: 0.4mm solid #111; padding: 1.4mm 2.6mm; }
.full { break-before: page; }
footer { font-size: 7.4pt; color: #444; margin-top: 3mm; }
`.trim();
