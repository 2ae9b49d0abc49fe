/** The map library's own worker as a file beside the page. */
import { setWorkerUrl } from "maplibre-gl";
import workerUrl from "maplibre-gl/dist/maplibre-gl-worker.mjs?url";

export function prepareMapWorker(): void {
  setWorkerUrl(new URL(workerUrl, document.baseURI).href);
}
