/**
 * Fast GeoJSON: walks the text once, piece by piece, and puts points and properties straight into columns.
 * Only geometry other than plain points, and nested properties, go through JSON.parse. A damaged feature is
 * left out and reading goes on with the next.
 */
import type { ByteSource } from "../containers/byte-window.ts";
import { asFeature, type FeatureSink } from "../feature-sink.ts";
import { FeatureReader } from "./geojson-feature.ts";
import { GEOMETRY_TYPES } from "./geojson-members.ts";
import {
  CLOSE_LIST,
  CLOSE_OBJECT,
  COLON,
  COMMA,
  decodeJsonString,
  eachMember,
  JsonBytes,
  JsonSyntaxError,
  OPEN_LIST,
  OPEN_OBJECT,
} from "./json-bytes.ts";

/** What stands beside the features. */
export interface Scanned {
  /**
   * A feature collection; features or geometries one after the other; or something else, whose value is given.
   */
  kind: "collection" | "sequence" | "other";
  value: unknown;
  /** Names of the members of the collection, in file order. */
  names: string[];
  type: unknown;
  crs: unknown;
  /** False where a collection has no list of features. */
  hasFeatures: boolean;
}

/** A feature longer than this is no feature but a bracket lost. */
const LONGEST_FEATURE_BYTES = 1 << 27;

/**
 * Reads a feature collection, or features and geometries one after the other, into the sink (which must decode
 * text with `decodeJsonString`). A text that ends within a feature gives the whole features before it, with a note.
 * @throws {JsonSyntaxError} where the text is not JSON, or half of its features or more are not
 */
export function scanGeoJson(source: ByteSource, sink: FeatureSink): Scanned {
  return new GeoJsonScanner(source, sink).scan();
}

/** Features looked at before their number is estimated, and the room made beyond the estimate. */
const SAMPLE = 2000;
const SPARE = 1.03;

/** Thrown to end a walk over members once what was looked for is found. */
const FOUND = Symbol("found");

class GeoJsonScanner {
  readonly #json: JsonBytes;
  readonly #sink: FeatureSink;
  readonly #reader: FeatureReader;
  readonly #scanned: Scanned = {
    kind: "other",
    value: undefined,
    names: [],
    type: undefined,
    crs: undefined,
    hasFeatures: false,
  };
  readonly #size: number;
  #broken = 0;
  #firstError: JsonSyntaxError | null = null;
  /** Bytes that may still be looked through for where to go on, so that a text full of damage comes to an end. */
  #searchBudget: number;

  constructor(source: ByteSource, sink: FeatureSink) {
    this.#json = new JsonBytes(source);
    this.#sink = sink;
    this.#reader = new FeatureReader(this.#json, sink);
    this.#size = source.size;
    this.#searchBudget = 4 * source.size + (1 << 20);
  }

  scan(): Scanned {
    const scanned = this.#scanned;
    scanned.kind = this.#kindOfText();
    if (scanned.kind === "collection") this.#readCollection();
    else if (scanned.kind === "sequence") this.#readFeatures(-1);
    else scanned.value = this.#json.parseValue();
    if (this.#firstError && this.#broken * 2 >= this.#sink.seen) throw this.#firstError;
    return scanned;
  }

  /** Looks at the first object of the text and goes back to its beginning. */
  #kindOfText(): Scanned["kind"] {
    const json = this.#json;
    for (;;) {
      const first = json.peekOn();
      if (first < 0) json.fail();
      if (first !== OPEN_OBJECT) return "other";
      const begin = json.at;
      let kind: Scanned["kind"] = "other";
      try {
        eachMember(json, (start, end) => {
          const name = decodeJsonString(json.bytes.subarray(start, end));
          if (name === "type") kind = kindOfType(json.parseValue());
          else if (name === "features" && json.peek() === OPEN_LIST) kind = "collection";
          else json.skipValue();
          if (kind !== "other") throw FOUND;
        });
      } catch (error) {
        if (error instanceof JsonSyntaxError) {
          if (error.cutOff && json.more(begin)) continue;
          throw error;
        }
        if (error !== FOUND) throw error;
      }
      json.at = begin;
      return kind;
    }
  }

  #readCollection(): void {
    const json = this.#json;
    json.expect(OPEN_OBJECT);
    if (json.peekOn() === CLOSE_OBJECT) return;
    for (;;) {
      // A member but the features is short: it is begun anew where the part at hand ends within it.
      json.peekOn();
      const begin = json.at;
      try {
        if (!this.#readMember()) return;
      } catch (error) {
        if (!(error instanceof JsonSyntaxError)) throw error;
        if (error.cutOff && json.more(begin)) continue;
        if (this.#sink.count === 0) throw error;
        this.#noteRest();
        return;
      }
      const next = json.peekOn();
      if (next === COMMA) json.at++;
      else if (next === CLOSE_OBJECT) {
        json.at++;
        break;
      } else {
        if (this.#sink.count === 0) json.fail();
        this.#noteRest();
        return;
      }
    }
    if (json.peekOn() >= 0) this.#noteRest();
  }

  /** Reads one member of the collection; false where the text ended within the features. */
  #readMember(): boolean {
    const json = this.#json;
    const scanned = this.#scanned;
    const start = json.skipString();
    const name = decodeJsonString(json.bytes.subarray(start, json.at - 1));
    json.expect(COLON);
    if (name === "features" && json.peek() === OPEN_LIST) {
      json.at++;
      scanned.hasFeatures = true;
      scanned.names.push(name);
      return this.#readFeatures(CLOSE_LIST);
    }
    if (name === "type") scanned.type = json.parseValue();
    else if (name === "crs") scanned.crs = json.parseValue();
    else json.skipValue();
    scanned.names.push(name);
    return true;
  }

  #noteRest(): void {
    const reason = "the text behind the features is cut off or damaged and is not used";
    this.#sink.notes.add({ reason, effect: "kept" });
  }

  /**
   * Reads features up to the closing byte, or to the end of the text (-1).
   * @returns false where the text ended before
   */
  #readFeatures(close: number): boolean {
    const json = this.#json;
    for (;;) {
      const byte = json.peekOn();
      if (byte === close) {
        json.at++;
        return true;
      }
      if (byte < 0) return this.#noteCut(false);
      if (byte === COMMA) json.at++;
      else if (!this.#readOne(byte)) return false;
    }
  }

  /** Reads one feature, or leaves it out where it is damaged; false where nothing can be read behind it. */
  #readOne(first: number): boolean {
    const json = this.#json;
    for (;;) {
      const begin = json.at;
      try {
        if (first !== OPEN_OBJECT || !this.#reader.read()) this.#takeOther(json.parseValue());
        if (this.#sink.seen === SAMPLE) this.#estimate();
        return true;
      } catch (error) {
        if (!(error instanceof JsonSyntaxError)) throw error;
        this.#sink.takeBack();
        const length = json.bytes.length - begin;
        if (error.cutOff && length < LONGEST_FEATURE_BYTES && json.more(begin)) continue;
        json.at = begin + 1;
        if (this.#firstError === null) {
          this.#firstError = error;
          error.feature = this.#sink.fileNumber;
        }
        const goesOn = this.#findFeature();
        if (!goesOn && error.cutOff) return this.#noteCut(true);
        this.#broken++;
        this.#sink.leaveOut("the feature is damaged (its text is not JSON)", error.near);
        return goesOn || this.#noteCut(false);
      }
    }
  }

  /** From the length of the first features to how many the text holds. */
  #estimate(): void {
    const perFeature = this.#json.offset / SAMPLE;
    this.#sink.expectRecords(Math.ceil((this.#size / perFeature) * SPARE));
  }

  /** In a collection only features count; a text of one object after the other may hold bare geometries. */
  #takeOther(value: unknown): void {
    this.#sink.add(this.#scanned.kind === "sequence" ? asFeature(value) : value);
  }

  /** @param within true where a feature was begun */
  #noteCut(within: boolean): false {
    const sink = this.#sink;
    if (sink.count === 0) {
      if (this.#firstError) throw this.#firstError;
      this.#json.fail();
    }
    const reason = "the file ends too early; the whole features before are used, the rest is missing";
    if (within) sink.leaveOut(reason);
    else sink.notes.add({ reason, effect: "left out", record: sink.fileNumber });
    return false;
  }

  /** Puts the cursor on the next object that is a feature; false where there is none. */
  #findFeature(): boolean {
    const json = this.#json;
    for (;;) {
      const brace = json.bytes.indexOf(OPEN_OBJECT, json.at);
      if (brace < 0) {
        if (!json.more(json.bytes.length)) return false;
        continue;
      }
      json.at = brace;
      const found = this.#looksLikeFeature();
      if (found === "yes") return true;
      if (found === "cut" && json.more(brace)) continue;
      if (this.#searchBudget < 0) return false;
      json.at = brace + 1;
    }
  }

  /** Looks at the object at the cursor, which stays where it is. */
  #looksLikeFeature(): "yes" | "no" | "cut" {
    const json = this.#json;
    const begin = json.at;
    let found: "yes" | "no" | "cut" = "no";
    try {
      eachMember(json, (start, end) => {
        if (decodeJsonString(json.bytes.subarray(start, end)) === "type") {
          if (json.parseValue() === "Feature") found = "yes";
          throw FOUND;
        }
        json.skipValue();
      });
    } catch (error) {
      if (error instanceof JsonSyntaxError) {
        const length = json.bytes.length - begin;
        found = error.cutOff && !json.atLastPart && length < LONGEST_FEATURE_BYTES ? "cut" : "no";
      } else if (error !== FOUND) throw error;
    }
    this.#searchBudget -= json.at - begin;
    json.at = begin;
    return found;
  }
}

function kindOfType(type: unknown): Scanned["kind"] {
  if (type === "FeatureCollection") return "collection";
  return type === "Feature" || (typeof type === "string" && GEOMETRY_TYPES.includes(type))
    ? "sequence"
    : "other";
}
