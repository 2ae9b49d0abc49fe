/** What dropped files are taken for. */
export const sorting = {
  title: "What these files are taken for",
  file: "File",
  takenFor: "Taken for",
  records: "Records",
  onField: "On the field",
  twice: (roles: readonly string[]) =>
    `Two files are to be the ${roles.join(" and the ")}: choose one, the other "not used".`,
  noLog:
    "No file is taken for the planter's log yet: choose it below. Nothing can be worked out without one.",
  stillPlanting:
    "Planting still goes on? “Look at the first passes” says what to change now and where to dig.",
  workOut: "Work it out",
  firstPasses: "Look at the first passes",
  saveAs: "Save as field.json",
  chooseOther: "Choose other files",
  whatIs: (file: string) => `What ${file} is`,
  notUsed: "not used",
  asChosen: "as you chose",
  unusedColumns: (count: number) =>
    `${count === 1 ? "1 of its columns is not used" : `${count} of its columns are not used`}, and why`,
  columnsUnused: (file: string) => `Columns of ${file} that are not used`,
  missing: "Missing, and what it changes",
  lacks: (what: string) => `no ${what}`,
};
