/** "targetPopulation" as a reason says it: the name reads as target population. */
export function readsAs(variable: string): string {
  return `the name reads as ${variable.replaceAll(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)}`;
}
