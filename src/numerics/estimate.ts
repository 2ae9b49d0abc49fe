/** An estimate with its interval, in the unit its name says; level is the coverage the interval aims at, e.g. 0.9. */
export interface Estimate {
  estimate: number;
  low: number;
  high: number;
  level: number;
}
