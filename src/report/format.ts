/** Quantities in words, as the report uses them; see `src/format.ts`. */
export {
  formatMoney,
  formatNumber,
  formatPercent,
  formatQuantity,
  groupThousands,
  hectares,
  type NumberLocale,
  type QuantityKind,
  roundMoney,
  shownValue,
  type UnitSystem,
  unitLabel,
} from "../format.ts";
