/** Why a setting cannot be, where it was typed; brought into view, clear of the bar that stays on top. */
import { useEffect, useRef } from "preact/hooks";
import type { PrescriptionSettings } from "../../src/prescription/prescription.ts";
import * as state from "../model/prescription-state.ts";

export function FieldRefusal({ of }: { of: keyof PrescriptionSettings }) {
  const trouble = state.trouble.value;
  const words = trouble?.field === `prescription.${of}` ? trouble.words : null;
  const line = useRef<HTMLSpanElement>(null);
  useEffect(() => {
    if (words !== null) line.current?.scrollIntoView({ block: "center" });
  }, [words]);
  return words === null ? null : (
    <span ref={line} class="refusal field-refusal">
      {words}
    </span>
  );
}
