/** Another season of the field: how to open it, and both seasons in figures. */
import { useRef } from "preact/hooks";
import * as state from "../model/state.ts";
import "../styles/seasons.css";
import {
  closeOtherSeason,
  openOtherSeason,
  otherSeason,
  type Season,
  seasonName,
  seasonTrouble,
} from "../model/other-season.ts";
import { commonZones, confirmedOf, meanOf, SEASON_VARIABLES, standOf } from "../model/season-means.ts";
import { formatKnown, formatQuantity } from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";
import { VARIABLES } from "../words/variables.ts";

export function SeasonsPanel() {
  const season = otherSeason.value;
  const chooser = useRef<HTMLInputElement>(null);
  return (
    <div class="seasons">
      <p>{texts.value.seasons.intro}</p>
      <div class="season-choice">
        <button type="button" onClick={() => chooser.current?.click()}>
          {texts.value.seasons.choose}
        </button>
        <label class="season-file">
          <span>{texts.value.seasons.file}</span>
          <input
            ref={chooser}
            class="visually-hidden"
            type="file"
            tabIndex={-1}
            accept=".html,.zip,text/html"
            onChange={(event) => {
              const [file] = event.currentTarget.files ?? [];
              event.currentTarget.value = "";
              if (file) void openOtherSeason(file);
            }}
          />
        </label>
        {season && (
          <button type="button" onClick={closeOtherSeason}>
            {texts.value.seasons.close(seasonName(season.document))}
          </button>
        )}
      </div>
      {seasonTrouble.value && (
        <p class="refusal" role="alert">
          {seasonTrouble.value}
        </p>
      )}
      {season && <Figures season={season} />}
    </div>
  );
}

function Figures({ season }: { season: Season }) {
  const document = state.findingsDocument.value;
  const layers = state.layers.value;
  if (!document || !layers) return null;
  const names = [document, season.document].map(seasonName);
  const zones = commonZones(layers, season.layers);
  return (
    <>
      <SeasonTable
        caption={texts.value.seasons.whole}
        names={names}
        season={season}
        zone={null}
        last={<Counted season={season} />}
      />
      {zones.map((zone) => (
        <SeasonTable
          key={zone}
          caption={texts.value.seasons.soil(zone)}
          names={names}
          season={season}
          zone={zone}
        />
      ))}
      <p class="small">{texts.value.seasons.caution}</p>
    </>
  );
}

function SeasonTable({
  caption,
  names,
  season,
  zone,
  last = null,
}: {
  caption: string;
  names: readonly string[];
  season: Season;
  zone: string | null;
  last?: preact.JSX.Element | null;
}) {
  const own = state.layers.value!;
  const system = state.unitSystem.value;
  const at = (layers: Season["layers"]) => (zone === null ? null : layers.zoneNames.indexOf(zone));
  const rows = SEASON_VARIABLES.map((variable) => ({
    variable,
    ours: meanOf(own.cells, variable, at(own)),
    theirs: meanOf(season.layers.cells, variable, at(season.layers)),
  })).filter(({ ours, theirs }) => ours !== null || theirs !== null);
  return (
    <table>
      <caption>{caption}</caption>
      <thead>
        <tr>
          <th scope="col">{texts.value.seasons.meanOf}</th>
          {names.map((name, k) => (
            <th key={k === 0 ? "this" : "other"} scope="col" class="number">
              {name}
            </th>
          ))}
          <th scope="col" class="number">
            {texts.value.seasons.less(names[0]!, names[1]!)}
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ variable, ours, theirs }) => {
          const { title, kind } = VARIABLES[variable];
          return (
            <tr key={variable}>
              <th scope="row">{title}</th>
              <td class="number">{formatKnown(ours, kind, system)}</td>
              <td class="number">{formatKnown(theirs, kind, system)}</td>
              <td class="number">
                {ours === null || theirs === null ? "" : signed(ours - theirs, kind, system)}
              </td>
            </tr>
          );
        })}
        {last}
      </tbody>
    </table>
  );
}

function signed(
  difference: number,
  ...rest: [Parameters<typeof formatQuantity>[1], Parameters<typeof formatQuantity>[2]]
) {
  const text = formatQuantity(difference, ...rest);
  return difference > 0 && /[1-9]/.test(text) ? `+${text}` : text;
}

/** Counts and confirmed places of both seasons, as further rows. */
function Counted({ season }: { season: Season }) {
  const system = state.unitSystem.value;
  const both = [
    { layers: state.layers.value!, document: state.findingsDocument.value! },
    { layers: season.layers, document: season.document },
  ];
  const stands = both.map(({ layers }) => standOf(layers));
  const confirmed = both.map(({ document }) => confirmedOf(document));
  return (
    <>
      <tr>
        <th scope="row">{texts.value.seasons.middle}</th>
        {stands.map((stand, k) => (
          <td key={k === 0 ? "this" : "other"} class="number">
            {stand
              ? texts.value.seasons.counts(formatQuantity(stand.middlePerHa, "plants", system), stand.counts)
              : texts.value.seasons.noneCounted}
          </td>
        ))}
        <td class="number">
          {stands[0] && stands[1]
            ? signed(stands[0].middlePerHa - stands[1].middlePerHa, "plants", system)
            : ""}
        </td>
      </tr>
      <tr>
        <th scope="row">{texts.value.seasons.confirmed}</th>
        {confirmed.map(({ places, areaHa }, k) => (
          <td key={k === 0 ? "this" : "other"} class="number">
            {places}, {formatQuantity(areaHa, "area", system)}
          </td>
        ))}
        <td />
      </tr>
    </>
  );
}
