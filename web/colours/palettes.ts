/**
 * Colour ramps. One direction: cividis (Nunez, Anderton & Renslow 2018, PLoS ONE 13(7):e0199239), made to
 * read alike with any colour vision. Around a target: PuOr, 11 classes, of ColorBrewer: color
 * specifications and designs developed by Cynthia Brewer (http://colorbrewer.org/), orange below the
 * target and purple above it. Between the stops colours are interpolated straight in sRGB.
 */
export type Rgb = [number, number, number];

const CIVIDIS: readonly Rgb[] = [
  [0, 32, 81],
  [10, 50, 106],
  [43, 68, 110],
  [77, 86, 109],
  [105, 105, 112],
  [127, 124, 117],
  [148, 143, 120],
  [173, 164, 118],
  [202, 186, 106],
  [234, 209, 86],
  [253, 234, 69],
];

const PUOR: readonly Rgb[] = [
  [127, 59, 8],
  [179, 88, 6],
  [224, 130, 20],
  [253, 184, 99],
  [254, 224, 182],
  [247, 247, 247],
  [216, 218, 235],
  [178, 171, 210],
  [128, 115, 172],
  [84, 39, 136],
  [45, 0, 75],
];

export type PaletteName = "cividis" | "cividis-reversed" | "puor";

const STOPS: Readonly<Record<PaletteName, readonly Rgb[]>> = {
  cividis: CIVIDIS,
  "cividis-reversed": [...CIVIDIS].reverse(),
  puor: PUOR,
};

/** Colour at a share 0..1 of the ramp; outside it is held at the ends. */
export function colourAt(palette: PaletteName, share: number): Rgb {
  const stops = STOPS[palette];
  const place = Math.min(Math.max(share, 0), 1) * (stops.length - 1);
  const index = Math.min(Math.floor(place), stops.length - 2);
  const part = place - index;
  const from = stops[index]!;
  const to = stops[index + 1]!;
  return [0, 1, 2].map((k) => Math.round(from[k]! + (to[k]! - from[k]!) * part)) as Rgb;
}

export function cssColour(rgb: Rgb): string {
  return `rgb(${rgb[0]} ${rgb[1]} ${rgb[2]})`;
}

/** Black or white, whichever stands out more on a colour: at least 4.5 to 1 on any (relative luminance of WCAG 2.2). */
export function inkOn(rgb: Rgb): string {
  const [red, green, blue] = rgb.map((value) => {
    const share = value / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  }) as Rgb;
  const luminance = 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  return 1.05 / (luminance + 0.05) > (luminance + 0.05) / 0.05 ? "#fff" : "#000";
}
