/**
 * Planted ground as one WebGL layer of the map: every record (or cell) is a small rectangle along its pass,
 * drawn by one call (plain
 * triangles: instanced ones take ten times as long where a processor has to draw them). Seen from afar the passes are drawn narrower than they are, so that they
 * read as threads and the soil shows between them; near by they have their true width.
 */
import type { CustomLayerInterface, CustomRenderMethodInput, Map as MapLibreMap } from "maplibre-gl";
import type { Ground } from "../protocol/ground.ts";

export const GROUND_LAYER = "planted-ground";

/** Below and above these zooms the passes have their narrowest and their true width. */
const NARROW_ZOOM = 15.5;
const TRUE_ZOOM = 17.5;
const NARROWEST = 0.58;

const VERTEX = `#version 300 es
in vec2 a_centre;
in vec2 a_along;
in vec2 a_lateral;
in vec4 a_colour;
uniform mat4 u_matrix;
uniform float u_gather;
uniform float u_least;
out vec4 v_colour;
void main() {
  // Corners 0 to 3 of a piece: left and right behind, left and right ahead.
  vec2 corner = vec2((gl_VertexID & 1) == 0 ? -1.0 : 1.0, (gl_VertexID & 2) == 0 ? -1.0 : 1.0);
  float halfLength = length(a_along);
  vec2 travel = halfLength > 0.0 ? a_along / halfLength : vec2(0.0, -1.0);
  vec2 right = vec2(-travel.y, travel.x);
  float side = a_lateral.x * u_gather + corner.x * max(a_lateral.y * u_gather, u_least);
  vec2 place = a_centre + travel * corner.y * max(halfLength, u_least) + right * side;
  v_colour = a_colour;
  gl_Position = a_colour.a > 0.0 ? u_matrix * vec4(place, 0.0, 1.0) : vec4(2.0, 2.0, 2.0, 1.0);
}`;

const FRAGMENT = `#version 300 es
precision mediump float;
in vec4 v_colour;
out vec4 colour;
void main() {
  colour = vec4(v_colour.rgb * v_colour.a, v_colour.a);
}`;

/** How much of their true width the passes have at a zoom, so that the legend can say it. */
export function passWidthShare(zoom: number): number {
  const share = Math.min(Math.max((zoom - NARROW_ZOOM) / (TRUE_ZOOM - NARROW_ZOOM), 0), 1);
  return NARROWEST + (1 - NARROWEST) * share;
}

export class GroundLayer implements CustomLayerInterface {
  readonly id = GROUND_LAYER;
  readonly type = "custom" as const;
  readonly renderingMode = "2d" as const;
  #map: MapLibreMap | null = null;
  #gl: WebGL2RenderingContext | null = null;
  #program: WebGLProgram | null = null;
  #vertices: WebGLVertexArrayObject | null = null;
  #buffers: WebGLBuffer[] = [];
  #colourBuffer: WebGLBuffer | null = null;
  #ground: Ground | null = null;
  #colours: Uint8Array | null = null;

  onAdd(map: MapLibreMap, gl: WebGL2RenderingContext): void {
    this.#map = map;
    this.#gl = gl;
    this.#program = linkProgram(gl);
    if (this.#ground) this.#upload();
  }

  onRemove(_map: MapLibreMap, gl: WebGL2RenderingContext): void {
    this.#free();
    if (this.#program) gl.deleteProgram(this.#program);
    this.#gl = null;
    this.#map = null;
  }

  /** Replaces the pieces; `colours` null draws none of them. */
  setGround(ground: Ground | null, colours: Uint8Array | null): void {
    const samePieces = ground === this.#ground;
    this.#ground = ground;
    this.#colours = colours;
    if (this.#gl) {
      if (samePieces && this.#colourBuffer && colours) {
        this.#gl.bindBuffer(this.#gl.ARRAY_BUFFER, this.#colourBuffer);
        this.#gl.bufferData(this.#gl.ARRAY_BUFFER, atCorners(colours, 4), this.#gl.STATIC_DRAW);
      } else this.#upload();
    }
    this.#map?.triggerRepaint();
  }

  render(gl: WebGL2RenderingContext, { defaultProjectionData }: CustomRenderMethodInput): void {
    const zoom = this.#map?.getZoom() ?? 0;
    if (!this.#ground || !this.#colours || !this.#program || !this.#vertices) return;
    gl.useProgram(this.#program);
    gl.bindVertexArray(this.#vertices);
    const matrix = shifted(defaultProjectionData.mainMatrix as ArrayLike<number>, this.#ground.origin);
    gl.uniformMatrix4fv(gl.getUniformLocation(this.#program, "u_matrix"), false, matrix);
    gl.uniform1f(gl.getUniformLocation(this.#program, "u_gather"), passWidthShare(zoom));
    gl.uniform1f(gl.getUniformLocation(this.#program, "u_least"), 0.6 / (512 * 2 ** zoom));
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    gl.disable(gl.DEPTH_TEST);
    gl.disable(gl.STENCIL_TEST);
    gl.disable(gl.CULL_FACE);
    gl.drawElements(gl.TRIANGLES, 6 * this.#ground.count, gl.UNSIGNED_INT, 0);
    gl.bindVertexArray(null);
  }

  #upload(): void {
    this.#free();
    const gl = this.#gl;
    if (!gl || !this.#program || !this.#ground || !this.#colours) return;
    this.#vertices = gl.createVertexArray();
    gl.bindVertexArray(this.#vertices);
    const program = this.#program;
    const attribute = (name: string, data: Float32Array | Uint8Array, size: number) => {
      const buffer = gl.createBuffer();
      gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
      gl.bufferData(gl.ARRAY_BUFFER, atCorners(data, size), gl.STATIC_DRAW);
      const location = gl.getAttribLocation(program, name);
      const bytes = data instanceof Uint8Array;
      gl.enableVertexAttribArray(location);
      gl.vertexAttribPointer(location, size, bytes ? gl.UNSIGNED_BYTE : gl.FLOAT, bytes, 0, 0);
      this.#buffers.push(buffer);
      return buffer;
    };
    attribute("a_centre", this.#ground.centre, 2);
    attribute("a_along", this.#ground.along, 2);
    attribute("a_lateral", this.#ground.lateral, 2);
    this.#colourBuffer = attribute("a_colour", this.#colours, 4);
    const corners = gl.createBuffer();
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, corners);
    gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, trianglesOf(this.#ground.count), gl.STATIC_DRAW);
    this.#buffers.push(corners);
    gl.bindVertexArray(null);
  }

  #free(): void {
    const gl = this.#gl;
    if (!gl) return;
    for (const buffer of this.#buffers) gl.deleteBuffer(buffer);
    if (this.#vertices) gl.deleteVertexArray(this.#vertices);
    this.#buffers = [];
    this.#vertices = null;
    this.#colourBuffer = null;
  }
}

/** Each piece's values four times over, once a corner. */
function atCorners<T extends Float32Array | Uint8Array>(values: T, size: number): T {
  const pieces = values.length / size;
  const out = new (values.constructor as new (length: number) => T)(4 * values.length);
  for (let i = 0; i < pieces; i++) {
    for (let corner = 0; corner < 4; corner++) {
      for (let k = 0; k < size; k++) out[(4 * i + corner) * size + k] = values[i * size + k]!;
    }
  }
  return out;
}

/** Two triangles a piece. */
function trianglesOf(pieces: number): Uint32Array {
  const out = new Uint32Array(6 * pieces);
  for (let i = 0; i < pieces; i++) {
    out.set([4 * i, 4 * i + 1, 4 * i + 2, 4 * i + 2, 4 * i + 1, 4 * i + 3], 6 * i);
  }
  return out;
}

/** The map's matrix with the origin folded in, worked out in 64 bits (column-major). */
function shifted(matrix: ArrayLike<number>, [x, y]: [number, number]): Float32Array {
  const out = Float32Array.from({ length: 16 }, (_, i) => matrix[i]!);
  for (let row = 0; row < 4; row++) {
    out[12 + row] = matrix[row]! * x + matrix[4 + row]! * y + matrix[12 + row]!;
  }
  return out;
}

function linkProgram(gl: WebGL2RenderingContext): WebGLProgram {
  const program = gl.createProgram();
  for (const [type, source] of [
    [gl.VERTEX_SHADER, VERTEX],
    [gl.FRAGMENT_SHADER, FRAGMENT],
  ] as const) {
    const shader = gl.createShader(type)!;
    gl.shaderSource(shader, source);
    gl.compileShader(shader);
    if (!gl.getShaderParameter(shader, gl.COMPILE_STATUS)) {
      throw new Error(`the map's shader does not compile: ${gl.getShaderInfoLog(shader) ?? ""}`);
    }
    gl.attachShader(program, shader);
  }
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) {
    throw new Error(`the map's shader does not link: ${gl.getProgramInfoLog(program) ?? ""}`);
  }
  return program;
}
