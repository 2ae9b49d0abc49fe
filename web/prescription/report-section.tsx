/** The prescription in the one-file report: cards and maps to read, nothing to set. */
import { LegendList, MODE_WORDS } from "../map/rates/rate-legend.tsx";
import { fileZones, legendEntries, shownGround } from "../map/rates/rate-map.ts";
import { HatchSwatch, RatePicture } from "../map/rates/rate-picture.tsx";
import * as state from "../model/prescription-state.ts";
import * as page from "../model/state.ts";
import { effectSaid, summarySaid } from "../words/prescription-words.ts";
import { MOISTURE_WORDS } from "../words/rate-words.ts";
import { texts } from "../words/texts/texts.ts";
import { Cautions, DigList, FirstList, GuardList, WorkedOut } from "./lists.tsx";
import { BarSigns } from "./load-bars.tsx";
import { loadScale } from "./load-scale.ts";
import { ZoneCard } from "./zone-card.tsx";

export function PrescriptionSection() {
  const view = state.view.value;
  const layers = page.layers.value;
  if (!view || !layers) return null;
  const system = page.unitSystem.value;
  const scale = loadScale(view, system);
  const outlines = fileZones(view, system);
  return (
    <section class="prescription" aria-labelledby="prescription-title">
      <h2 id="prescription-title">
        {texts.value.prescription.titleFor(MOISTURE_WORDS[view.settings.moisture].title.toLowerCase())}
      </h2>
      <p class="prescription-summary">{summarySaid(view)}</p>
      <p>{effectSaid(view)}</p>
      <FirstList view={view} />
      <div class="rate-pictures">
        {state.MAP_MODES.map((mode) => {
          const ground = shownGround(view, layers, mode, system);
          return (
            <figure key={mode}>
              <figcaption>{texts.value.prescription[MODE_WORDS[mode]]}</figcaption>
              <RatePicture
                title={texts.value.prescription[MODE_WORDS[mode]]}
                ground={ground}
                outlines={outlines}
                bounds={layers.bounds}
              />
              <LegendList entries={legendEntries(ground)} />
            </figure>
          );
        })}
      </div>
      <p class="small">
        <HatchSwatch /> proof strip, left at today's load. Loads can be set, and files made for the machine,
        on the page.
      </p>
      <Cautions view={view} open={true} />
      <BarSigns />
      <div class="zone-cards">
        {view.decisions.map((decision, place) => (
          <ZoneCard
            key={decision.soilZone}
            view={view}
            decision={decision}
            scale={scale}
            place={place + 1}
            readOnly={true}
          />
        ))}
      </div>
      <GuardList view={view} open={true} />
      <DigList view={view} />
      <WorkedOut view={view} />
    </section>
  );
}
