/** How the sheets look: ink only, type that reads at arm's length, boxes a gloved hand can write into. */
export const SHEET_STYLE = `
@page { margin: 11mm; }
* { box-sizing: border-box; }
body { margin: 0; color: #000; background: #fff; font: 11pt/1.3 system-ui, sans-serif; }
.page { break-after: page; width: 188mm; max-width: 100%; margin: 0 auto; }
.page:last-child { break-after: auto; }
header { display: flex; justify-content: space-between; align-items: baseline; border-bottom: 0.6mm solid #000; margin-bottom: 2mm; }
h1 { font-size: 15pt; margin: 0 0 1mm; white-space: nowrap; overflow: hidden; text-overflow: ellipsis; }
header p { white-space: nowrap; flex: none; font-size: 9pt; padding-left: 4mm; }
h2 { font-size: 12pt; margin: 1mm 0; }
p, ul, ol { margin: 0 0 1mm; }
ul, ol { padding-left: 5mm; }
.small { font-size: 9pt; }
.two { display: grid; grid-template-columns: 1fr 1fr; gap: 6mm; font-size: 10pt; }
.caution { border: 0.8mm solid #000; padding: 2mm 3mm; margin: 2mm 0; }
.band { display: flex; gap: 4mm; border-bottom: 0.3mm solid #000; padding: 1.6mm 0; break-inside: avoid; }
.number { font-size: 26pt; font-weight: 700; line-height: 1; width: 15mm; text-align: right; flex: none; }
.where { flex: 1; min-width: 0; }
.where p { font-size: 10pt; }
.boxes { display: flex; gap: 2mm; }
.box { flex: 1; height: 16mm; border: 0.4mm solid #000; padding: 0.4mm 1mm; font-size: 8.5pt; }
.box.strong { border-width: 0.9mm; }
table { border-collapse: collapse; width: 100%; font-size: 9pt; }
th, td { border: 0.3mm solid #000; padding: 0.5mm 1mm; height: 17.5mm; text-align: left; }
thead th { height: auto; }
td:nth-child(2), td:nth-child(3) { width: 18mm; }
td span { display: inline-block; margin: 0.2mm 2mm 0.2mm 0; font-size: 10pt; }
svg { width: 100%; height: auto; border: 0.3mm solid #000; }
svg text { font: 700 3px system-ui, sans-serif; text-anchor: middle; }
.outline { fill: none; stroke: #000; stroke-width: 0.6; }
.place { fill: #d4d4d4; stroke: #777; stroke-width: 0.3; fill-rule: evenodd; }
.way { fill: none; stroke: #555; stroke-width: 0.3; stroke-dasharray: 1.5 1; }
.spot { fill: #fff; stroke: #000; stroke-width: 0.4; }
.dig { fill: #000; }
.dug { fill: #fff; }
.north { fill: none; stroke: #000; stroke-width: 0.6; }
`;
