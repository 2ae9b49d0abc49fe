/** How the set-up sheet looks: as the scouting sheets do, with boxes to tick and a box for each row unit. */
import { SHEET_STYLE } from "../scout/sheet-style.ts";

export const SET_UP_STYLE = `${SHEET_STYLE}
h1 { white-space: normal; overflow-wrap: anywhere; }
.line { border-bottom: 0.3mm solid #000; padding: 1.2mm 0; break-inside: avoid; display: grid; grid-template-columns: 7mm 1fr; column-gap: 2mm; }
.tick { width: 5.5mm; height: 5.5mm; border: 0.5mm solid #000; margin-top: 0.4mm; }
.line h3 { font-size: 11.5pt; margin: 0; }
.line p { font-size: 9.5pt; }
.is-marked { border-left: 1.6mm solid #000; padding-left: 2mm; }
.found { margin: 0 0 1mm; }
.found li { font-size: 10pt; break-inside: avoid; }
.rows { display: grid; grid-template-columns: repeat(auto-fill, minmax(7.2mm, 1fr)); gap: 0; margin-top: 0.8mm; }
.rows div { height: 8.5mm; border: 0.25mm solid #000; margin: 0 -0.25mm -0.25mm 0; font-size: 7.5pt; line-height: 1; padding: 0.3mm 0.5mm; }
.rows .is-named { border: 0.9mm solid #000; font-weight: 700; background: #e6e6e6; print-color-adjust: exact; -webkit-print-color-adjust: exact; z-index: 1; }
.places { display: flex; flex-wrap: wrap; gap: 2mm; margin-top: 0.8mm; }
.places div { flex: 1 1 24mm; height: 10mm; border: 0.3mm solid #000; font-size: 8pt; padding: 0.3mm 0.8mm; }
.loads { margin-bottom: 2mm; }
.loads th, .loads td { height: auto; width: auto !important; font-size: 10pt; }
@media screen and (max-width: 600px) {
  body { padding: 3mm; }
  header { display: block; }
  header p { white-space: normal; padding-left: 0; }
  .two { display: block; }
  .rows { grid-template-columns: repeat(auto-fill, minmax(10mm, 1fr)); }
}
`;
