/** True in `npm run studies`, where every simulated study is run whole. */
export const WHOLE_STUDIES = process.env.EVENSTAND_STUDIES === "1";

/** How many simulated fields a study takes: all of them in `npm run studies`, a part in `npm run test:full`. */
export function studySize(all: number, part: number): number {
  return WHOLE_STUDIES ? all : part;
}
