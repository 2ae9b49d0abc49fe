/** Weather by day or hour. */
import { FileUnusableError } from "../errors.ts";
import type { RawLayer } from "../ingest/layer.ts";
import { isoTextOf } from "../ingest/values/times.ts";
import type { Manifest } from "../manifest/manifest-schema.ts";
import { LayerReading } from "../recognise/layer-reading.ts";
import { WEATHER_CATALOGUE } from "../vocabulary/catalogue-places.ts";
import type { InputReport, Weather } from "../vocabulary/field.ts";

/**
 * Loads the weather.
 * @throws {FileUnusableError} when it has no dates.
 * @throws {ChoiceNeededError} where a column or a unit is the user's to choose.
 */
export function loadWeather(layer: RawLayer, manifest: Manifest): { weather: Weather; report: InputReport } {
  const reading = new LayerReading(layer, "weather", WEATHER_CATALOGUE, manifest.weather?.columns);
  const seconds = reading.found("date")?.time?.seconds;
  if (!seconds) {
    throw new FileUnusableError(`${layer.file} (weather): no column has dates`, {
      file: layer.file,
      field: "weather",
      accepted: "a column of dates such as 2026-04-24",
    });
  }
  const kept = Int32Array.from(seconds.keys()).filter((record) => !Number.isNaN(seconds[record]!));
  const values = (variable: string) =>
    reading.numbers(variable, kept) ?? new Float64Array(kept.length).fill(Number.NaN);
  const weather: Weather = {
    time: Array.from(kept, (record) => isoTextOf(seconds[record]!)),
    rainMm: values("rain"),
    minimumC: values("minimumTemperature"),
    maximumC: values("maximumTemperature"),
    soilC: values("soilTemperature"),
  };
  return { weather, report: reading.report(kept.length) };
}
