package report

// How pages look, on paper and on a screen: black ink, no colour, millimetres.
// What has {} in it is filled in by those who write it.

// baseStyle is of every page. Paper, margin, foot of the page, width of the text.
const baseStyle = `<style>
@page { size: {}; margin: {}mm; @bottom-left { content: "{}"; font: 7pt "Liberation Sans", Arial, sans-serif; } @bottom-right { content: "page " counter(page) " of " counter(pages); font: 7pt "Liberation Sans", Arial, sans-serif; } }
* { box-sizing: border-box; }
html { background: #fff; color: #000; }
body { margin: 0 auto; width: {}mm; max-width: 100%; font: 8.2pt/3.7mm "Liberation Sans", Arial, Helvetica, sans-serif; font-variant-numeric: tabular-nums; overflow-wrap: anywhere; }
h1, h2, h3, p, ul, dl, dd, figure { margin: 0; padding: 0; }
h2 { font-size: 9pt; line-height: 3.8mm; margin: 1.4mm 0 .6mm; border-bottom: .35mm solid #000; break-after: avoid; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .2mm 1.2mm .2mm 0; border-bottom: .15mm solid #000; height: 4.2mm; }
thead th { overflow-wrap: normal; vertical-align: bottom; border-bottom-width: .35mm; }
tr, li { break-inside: avoid; }
ul { list-style: none; }
li { padding-bottom: .5mm; }
.tight, .matrix td, .matrix th[scope=row] { white-space: nowrap; overflow-wrap: normal; }
.time { width: 1%; white-space: nowrap; padding-right: 3mm; }
.box { display: inline-block; width: 3mm; height: 3mm; border: .3mm solid #000; vertical-align: -.4mm; }
`

// recordStyle is of a record. Heights of the first page, widths of its head, its map and the text.
const recordStyle = `.front { break-after: page; display: flex; flex-direction: column; min-height: {}mm; }
header { display: flex; justify-content: space-between; gap: 4mm; border-bottom: .7mm solid #000; padding-bottom: 1.2mm; }
.tag { font-weight: bold; line-height: 1.05; }
h1 { font-size: 14pt; line-height: 6mm; }
.one { white-space: nowrap; overflow: hidden; text-overflow: ellipsis; max-width: {}mm; }
.verdict { flex: none; width: 56mm; border: .9mm solid #000; text-align: center; padding: 1mm; align-self: start; }
.verdict b { display: block; font-size: 24pt; line-height: 10mm; white-space: nowrap; }
.verdict.done { background: #000; color: #fff; }
.verdict.open, .verdict.stopped { border-style: dashed; }
.alarm { border: 1.2mm double #000; padding: 1mm 2mm; margin-top: 1mm; font-weight: bold; }
.main { margin-top: 1mm; }
.beside { display: flex; gap: 6mm; }
.beside > figure { flex: none; width: {}mm; }
.beside > .blocks { flex: 1; }
.blocks { display: flex; gap: 6mm; }
.blocks > table { flex: 1; align-self: start; }
figcaption { font-size: 7pt; line-height: 3.1mm; }
figure svg { display: block; max-width: 100%; height: auto; }
.lists { display: flex; gap: 8mm; }
.lists > div { flex: 1 1 0; min-width: 0; }
.legend { font-size: 7pt; line-height: 3.1mm; }
.sign { border-top: .7mm solid #000; margin-top: auto; padding-top: 1mm; break-inside: avoid; }
.hash { font: 8pt/3.6mm "Liberation Mono", "Courier New", monospace; font-weight: bold; }
.sign p { margin-bottom: 1.2mm; }
.lines { display: flex; gap: 5mm; margin-top: 9mm; }
.lines span { border-top: .3mm solid #000; flex: 3; padding-top: .4mm; }
.lines span:last-child { flex: 2; }
.appendix h1 { border-bottom: .7mm solid #000; }
.two, .log { columns: 2; column-gap: 8mm; }
.log li { padding-left: 15mm; text-indent: -15mm; }
.log li.day { padding: 1mm 0 .4mm; text-indent: 0; font-weight: bold; break-after: avoid; }
.log time { display: inline-block; width: 15mm; text-indent: 0; white-space: nowrap; }
dl { display: grid; grid-template-columns: 26mm 1fr; gap: .3mm 2mm; }
@media screen { .front { min-height: 0; } body { padding: 5mm; width: auto; max-width: calc({}mm + 10mm); } section { margin-bottom: 5mm; } }
</style>
`

// buildStyle is of a build sheet. Height of the first page, width of the text.
const buildStyle = `.front { display: flex; flex-direction: column; min-height: {}mm; }
header { display: flex; justify-content: space-between; gap: 4mm; border-bottom: .7mm solid #000; padding-bottom: 1.2mm; }
header b { font-size: 22pt; line-height: 9mm; display: block; }
header p { font-size: 10pt; line-height: 4.5mm; }
.verdict { flex: none; border: .9mm solid #000; text-align: center; padding: 1.5mm 4mm; align-self: start; font-size: 14pt; line-height: 6mm; font-weight: bold; }
.hash, .joints td:last-child { font: 7pt/3.4mm "Liberation Mono", "Courier New", monospace; }
.one { white-space: nowrap; overflow: hidden; text-overflow: ellipsis; max-width: 80mm; }
.lists { display: flex; gap: 8mm; }
.lists > div { flex: 1 1 0; min-width: 0; }
.sign { border-top: .7mm solid #000; margin-top: auto; padding-top: 1mm; break-inside: avoid; }
.lines { display: flex; gap: 5mm; margin-top: 9mm; }
.lines span { border-top: .3mm solid #000; flex: 3; padding-top: .4mm; }
.lines span:last-child { flex: 2; }
.legend, figcaption { font-size: 7pt; line-height: 3.1mm; }
figure svg { display: block; max-width: 100%; height: auto; }
.all { break-before: page; }
.walk { margin-top: 9mm; }
.walk figure, dl { break-inside: avoid; }
.appendix h1 { break-after: avoid; border-bottom: .7mm solid #000; font-size: 13pt; line-height: 6mm; }
.two, .log { columns: 2; column-gap: 8mm; }
.log li { padding-left: 15mm; text-indent: -15mm; }
.log li.day { padding: 1mm 0 .4mm; text-indent: 0; font-weight: bold; break-after: avoid; }
.log time { display: inline-block; width: 15mm; text-indent: 0; white-space: nowrap; }
.legend, .appendix table + p { margin-top: .8mm; }
.two { margin-top: 1.4mm; }
.two > h2:first-child { margin-top: 0; }
dl { display: grid; grid-template-columns: 22mm 1fr 22mm 1fr; gap: .3mm 2mm; }
@media screen { .front { min-height: 0; } body { padding: 5mm; width: auto; max-width: calc({}mm + 10mm); } section { margin-bottom: 5mm; } }
</style>
`

// cardStyle is of a work card. Widths of the map and the text.
const cardStyle = `body { font-size: 9.5pt; line-height: 4.2mm; }
header { border-bottom: .7mm solid #000; padding-bottom: 1.5mm; }
h1 { font-size: 19pt; line-height: 8mm; }
h2 { font-size: 13pt; line-height: 6mm; margin-top: 4mm; }
.fill { display: flex; gap: 5mm; margin-top: 4mm; font-weight: bold; }
.fill span { flex: 2; border-bottom: .3mm solid #000; height: 7mm; padding-top: 2.5mm; }
.fill span:first-child { flex: 3; }
.top { display: flex; gap: 6mm; margin-top: 2mm; }
.top figure { flex: none; width: {}mm; }
.top figure svg { display: block; }
.top ul { margin: 1mm 0 2mm; }
.top li { padding-left: 4mm; text-indent: -4mm; }
figcaption { font-size: 7pt; line-height: 3.1mm; }
.box { width: 4.6mm; height: 4.6mm; border-width: .4mm; vertical-align: -1mm; margin-right: 1mm; background: #fff; }
.line { display: inline-block; border-bottom: .3mm solid #000; min-width: 22mm; height: 5.5mm; vertical-align: -.5mm; }
.line.short { min-width: 13mm; }
.steps li { padding: 1.1mm 0 1.1mm 7mm; text-indent: -7mm; border-bottom: .15mm solid #000; min-height: 7.2mm; }
.steps li > * { text-indent: 0; }
.rows { columns: 2; column-gap: 8mm; margin-top: 1mm; }
.rows.wide { columns: 1; }
.rows li { display: flex; flex-wrap: wrap; align-items: center; gap: 1mm 3mm; min-height: 8mm; padding: .6mm 0; border-bottom: .15mm solid #000; }
.rows .no { width: 6mm; text-align: right; }
.rows .id { font-weight: bold; font-size: 12pt; min-width: 12mm; }
.rows .figure { font-size: 11pt; white-space: nowrap; }
.rows .line { margin-left: auto; }
.first { flex-basis: 100%; }
.mind { flex-basis: 100%; font-weight: bold; font-size: 8.5pt; }
.new { flex-basis: 100%; padding-left: 9mm; font-size: 8.5pt; }
.sign { border-top: .7mm solid #000; margin-top: 6mm; padding-top: 1.5mm; break-inside: avoid; }
.sign p { margin-bottom: 1.5mm; }
@media screen { body { padding: 5mm; width: auto; max-width: calc({}mm + 10mm); } }
</style>
`
