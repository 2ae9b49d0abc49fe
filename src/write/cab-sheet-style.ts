/** How the cab sheet looks: ink only, numbers that read at arm's length, one page of A4 or Letter. */
export const CAB_SHEET_STYLE = `
@page { margin: 8mm; }
* { box-sizing: border-box; }
body { margin: 0; color: #000; background: #fff; font: 10.5pt/1.25 system-ui, sans-serif; }
.page { zoom: var(--zoom); width: 100%; max-width: calc(194mm / var(--zoom)); margin: 0 auto; display: flex; flex-direction: column; gap: 2.2mm; }
header { display: flex; justify-content: space-between; align-items: center; gap: 5mm; border-bottom: 0.8mm solid #000; padding-bottom: 1.4mm; }
h1 { font-size: 17pt; line-height: 1.1; margin: 0; overflow-wrap: anywhere; }
header p { font-size: 10pt; }
.picked { border: 0.9mm solid #000; padding: 0.6mm 3mm; font-size: 17pt; font-weight: 700; white-space: nowrap; flex: none; }
h2 { font-size: 11.5pt; margin: 0 0 0.6mm; }
p, ul { margin: 0; }
ul { padding-left: 4.5mm; }
.first, .caution { border: 0.8mm solid #000; padding: 1.4mm 2.5mm; }
.first { background: #e6e6e6; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
.split { display: grid; grid-template-columns: 1fr 1fr; gap: 4mm; }
.top { grid-template-columns: 98mm 1fr; }
svg { width: 100%; height: auto; border: 0.3mm solid #000; display: block; }
svg text { font: 700 6.4px system-ui, sans-serif; text-anchor: middle; paint-order: stroke; stroke: #fff; stroke-width: 1.4px; stroke-linejoin: round; }
svg text.no { font-size: 4px; font-weight: 400; }
svg text.narrow { font-size: 4.4px; }
.zone { stroke: #000; stroke-width: 0.5; fill-rule: evenodd; }
.strip { fill: url(#hatch); }
.north { fill: none; stroke: #000; stroke-width: 0.6; }
.squeeze { border-collapse: collapse; width: 100%; }
.squeeze td { padding: 1mm 1mm; font-size: 11.5pt; border-bottom: 0.2mm solid #888; }
.squeeze td:first-child { font-weight: 700; font-size: 13pt; white-space: nowrap; }
.squeeze .is-picked td { background: #000; color: #fff; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
.loads { border-collapse: collapse; width: 100%; }
.loads th { font-size: 9.5pt; text-align: left; vertical-align: bottom; padding: 0 1mm 0.4mm; border-bottom: 0.5mm solid #000; }
.loads td { border-bottom: 0.3mm solid #000; padding: 0.8mm 1mm; vertical-align: middle; }
.loads .name { min-width: 40mm; font-size: 13pt; font-weight: 700; line-height: 1.1; }
.loads .name small { display: block; font-size: 9.5pt; font-weight: 400; }
.loads .key { font-size: 30pt; font-weight: 700; border: 0.9mm solid #000; line-height: 1; text-align: center; white-space: nowrap; }
.loads .is-key { font-size: 12pt; border: 0.9mm solid #000; border-bottom: none; background: #000; color: #fff; padding: 0.6mm 2mm; white-space: nowrap; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
.loads .is-key small { display: block; font-size: 9.5pt; font-weight: 400; }
.loads .load { font-size: 11pt; text-align: center; white-space: nowrap; }
.loads .number { font-size: 11pt; border: 0.3mm solid #000; padding: 0 1mm; white-space: nowrap; }
.loads .why { font-size: 9.5pt; line-height: 1.2; width: 32%; }
.loads .is-head { text-align: center; }

.small { font-size: 9.5pt; }
@media screen { body { padding: 6mm; } }
@media screen and (max-width: 760px) { .split, .top { grid-template-columns: 1fr; } .table { overflow-x: auto; } }
`;
