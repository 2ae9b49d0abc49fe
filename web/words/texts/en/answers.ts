/** The short form of what was not said of a field. */
export const answers = {
  writeNumber: (title: string) => `${title}: write a number, or leave the question empty.`,
  nothing: "Nothing was answered yet.",
  work: "Work it out with these",
  leaveEmpty: "What you do not know, leave empty.",
  used: (what: string) => `Used: ${what}.`,
  keeps: "keeps the answers beside the files.",
  label: "Answers about the field",
  would: "Answers that would change this",
  saidOf: "What you said of the field",
  sensed: "sensed",
  onlySet: "only set",
};
