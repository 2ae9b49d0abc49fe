/** The map library's own worker inside the report: a single file opened by double click has no file beside it. */
import { setWorkerUrl } from "maplibre-gl";
import workerSource from "maplibre-gl/dist/maplibre-gl-worker.mjs?raw";

export function prepareMapWorker(): void {
  setWorkerUrl(`data:text/javascript;charset=utf-8,${encodeURIComponent(workerSource)}`);
}
