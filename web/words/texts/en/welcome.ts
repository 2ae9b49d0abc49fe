/** Before a field is on the page, and while it is worked on. */
export const welcome = {
  title: "Where did the stand come up uneven, and why?",
  drop: <Part>(file: Part): (string | Part)[] => [
    "Drop the planter's log here, with the soil map, stand counts, digs and boundary if you have them (shapefile, zipped or loose, GeoJSON or CSV), or the whole folder of a field with its ",
    file,
    ". The log alone is enough to begin; everything else sharpens the answer.",
  ],
  choose: "Choose files",
  sample: "Open the sample",
  backTo: (name: string) => `Back to ${name}`,
  kept: "Kept in this browser",
  size: (files: number, shown: string, megabytes: string) =>
    `${shown} ${files === 1 ? "file" : "files"}, ${megabytes} MB`,
  forget: "Forget",
  privacy:
    "Your files stay on this computer: the page works on them itself and sends nothing anywhere. The sample is an invented field. A session file saved earlier opens the same way.",
  filesOfField: "Files of one field",
  ourFault: "Evenstand met a fault of its own.",
  unusable: "These files could not be used.",
  accepted: (what: string) => `Accepted would be: ${what}`,
  afterOurs:
    "Your files are as they were. Try once more, or with the log alone; if it comes again, report it with the words above.",
  afterTheirs: "Nothing was changed. Choose other files below, or mend this one and choose it again.",
  atWork: "At work",
  howFar: "How far the work is",
  step: (step: number, of: number) => `Step ${step} of ${of}`,
  cancel: "Cancel",
};
