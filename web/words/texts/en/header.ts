/** The top line, and which part of the page is shown. */
export const header = {
  noField: "No field open",
  planted: (date: string) => `planted ${date}`,
  open: "Open…",
  printTwo: "Print two pages",
  printAll: "Print all",
  undo: "Undo",
  redo: "Redo",
  besideMap: "Beside the map",
  wrong: "What went wrong",
  toSet: "What to set",
};
