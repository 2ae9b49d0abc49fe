/** The page: ledger beside the map, the furrow under it; on a phone one of the three at a time. */
import { useEffect, useState } from "preact/hooks";
import { openChosenFiles } from "../client/open-field.ts";
import { filesOfDrop } from "../controls/dropped-files.ts";
import { OriginDialog } from "../controls/origin.tsx";
import { printing } from "../controls/print.ts";
import { Splitter } from "../controls/splitter.tsx";
import { FarmSummary } from "../ledger/farm-summary.tsx";
import { Ledger } from "../ledger/ledger.tsx";
import { listenForUndoKeys } from "../model/history.ts";
import { paneSizes } from "../model/panes.ts";
import { pane } from "../model/prescription-pane.ts";
import * as state from "../model/state.ts";
import { texts } from "../words/texts/texts.ts";
import { DockPanel } from "./dock.tsx";
import { FirstPasses } from "./first-passes.tsx";
import { Header } from "./header.tsx";
import { LazyPrescription, PaneSwitch } from "./pane-switch.tsx";
import { Questions } from "./questions.tsx";
import { Sorting } from "./sorting.tsx";
import { Loading, Welcome } from "./welcome.tsx";

export function App() {
  const [dragging, setDragging] = useState(false);
  useEffect(() => listenForDrops(setDragging), []);
  useEffect(listenForUndoKeys, []);
  const phase = state.phase.value;
  const hasField = state.layers.value !== null && (phase.kind === "ready" || phase.kind === "loading");
  const reopen = () => {
    state.phase.value = { kind: "empty" };
  };
  return (
    <div class={`page${dragging ? " dragging" : ""}`} data-view={state.phoneView.value}>
      <Header onOpen={hasField ? reopen : null} />
      {hasField ? (
        <Spread />
      ) : (
        <main class="front">
          <Front phase={phase} />
        </main>
      )}
      {hasField && <PhoneSwitch />}
      <OriginDialog />
      {hasField && (
        <footer class="foot">
          <p class="readout" role="status">
            {state.readout.value || <ReadoutHint />}
          </p>
        </footer>
      )}
    </div>
  );
}

/** The parts beside each other, as wide and as high as they were dragged. */
function Spread() {
  const { ledger, dock } = paneSizes.value;
  return (
    <main
      class="spread"
      data-dock={state.dock.value}
      data-ledger-shut={ledger.shut}
      data-dock-shut={dock.shut}
      style={{
        "--ledger-size": ledger.size === null ? null : `${ledger.size}px`,
        "--dock-size": dock.size === null ? null : `${dock.size}px`,
      }}
    >
      {printing.value === "short" && <FarmSummary />}
      <div class="ledger-pane">
        <Loading />
        <Notice />
        <PaneSwitch />
        <div class="ledger-scroll">{pane.value === "prescription" ? <LazyPrescription /> : <Ledger />}</div>
      </div>
      <Splitter pane="ledger" />
      <LazyMap />
      <Splitter pane="dock" />
      <DockPanel />
    </main>
  );
}

/** What the line of the read-out is for, while nothing is read out. */
function ReadoutHint() {
  const drawn = state.dock.value === "furrow" || state.dock.value === "rows";
  if (state.phase.value.kind !== "ready") return null;
  const said = texts.value.dock;
  const onPhone = { map: said.tapMap, dock: drawn ? said.tapDrawing : null, ledger: null }[
    state.phoneView.value
  ];
  return (
    <>
      {onPhone && <span class="readout-hint phone">{onPhone}</span>}
      <span class="readout-hint desk">{drawn ? said.pointBoth : said.pointMap}</span>
    </>
  );
}

function Notice() {
  const said = state.notice.value;
  return (
    <div class="notice" role="status">
      {said && (
        <>
          <p>{said}</p>
          <button
            type="button"
            onClick={() => {
              state.notice.value = null;
            }}
          >
            {texts.value.dock.understood}
          </button>
        </>
      )}
    </div>
  );
}

function Front({ phase }: { phase: state.Phase }) {
  if (phase.kind === "loading") return <Loading />;
  if (phase.kind === "sorting") return <Sorting sorting={phase.sorting} />;
  if (phase.kind === "checked") return <FirstPasses checked={phase} />;
  if (phase.kind !== "asking") return <Welcome />;
  const { file, questions } = phase.asking;
  const key = [file, ...questions.map(({ variable }) => variable)].join();
  return <Questions key={key} asking={phase.asking} />;
}

type MapComponent = typeof import("./maps.tsx").Maps;

/** The map comes after the ledger: it is the heaviest part of the page. */
function LazyMap() {
  const [maps, setMaps] = useState<{ view: MapComponent } | null>(null);
  useEffect(() => {
    let wanted = true;
    Promise.all([import("./maps.tsx"), import("../map/map-worker.ts")]).then(
      ([{ Maps: view }, { prepareMapWorker }]) => {
        prepareMapWorker();
        if (wanted) setMaps({ view });
      },
    );
    return () => {
      wanted = false;
    };
  }, []);
  return maps ? (
    <maps.view />
  ) : (
    <div class="maps">
      <section class="map-pane" aria-label={texts.value.dock.mapLabel} />
    </div>
  );
}

const PHONE_VIEWS: readonly state.PhoneView[] = ["ledger", "map", "dock"];

function PhoneSwitch() {
  const said = texts.value.dock;
  const titles = { ledger: said.ledger, map: said.map, dock: said.drawings };
  return (
    <nav class="phone-switch" aria-label={said.parts}>
      {PHONE_VIEWS.map((name) => (
        <button
          key={name}
          type="button"
          aria-pressed={state.phoneView.value === name}
          onClick={() => {
            state.phoneView.value = name;
          }}
        >
          {name === "ledger" && pane.value === "prescription" ? texts.value.header.toSet : titles[name]}
        </button>
      ))}
    </nav>
  );
}

function listenForDrops(setDragging: (dragging: boolean) => void): () => void {
  const onDragOver = (event: DragEvent) => {
    event.preventDefault();
    setDragging(true);
  };
  const onDragLeave = (event: DragEvent) => {
    if (!event.relatedTarget) setDragging(false);
  };
  const onDrop = (event: DragEvent) => {
    event.preventDefault();
    setDragging(false);
    if (!event.dataTransfer) return;
    filesOfDrop(event.dataTransfer).then((files) => {
      if (files.length > 0) openChosenFiles(files);
    });
  };
  document.addEventListener("dragover", onDragOver);
  document.addEventListener("dragleave", onDragLeave);
  document.addEventListener("drop", onDrop);
  return () => {
    document.removeEventListener("dragover", onDragOver);
    document.removeEventListener("dragleave", onDragLeave);
    document.removeEventListener("drop", onDrop);
  };
}
