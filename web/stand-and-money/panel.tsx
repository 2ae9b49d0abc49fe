/** Stand, emergence and money in plain words and small tables: what it cost, what pays, when plants should be up. */
import * as state from "../model/state.ts";
import "../styles/stand-and-money.css";
import { Departures, Drivers } from "./drivers.tsx";
import { Emergence } from "./emergence.tsx";
import { MoneyTables } from "./money-tables.tsx";
import { KeepOrReplantPart } from "./replant.tsx";
import { Spacing } from "./spacing.tsx";
import { WorthTable } from "./worth-table.tsx";

export function StandAndMoney() {
  const document = state.findingsDocument.value;
  if (!document) return null;
  const system = state.unitSystem.value;
  return (
    <div class="stand-money">
      <MoneyTables document={document} system={system} />
      <WorthTable document={document} />
      <KeepOrReplantPart document={document} system={system} />
      <Emergence part={document.summary.emergence} system={system} />
      <Spacing part={document.summary.spacing} system={system} />
      <Drivers document={document} />
      <Departures document={document} system={system} />
    </div>
  );
}
