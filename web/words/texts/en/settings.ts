/** How the page speaks and looks. */
export const settings = {
  title: "Settings",
  units: "Units",
  farm: "acres, inches",
  metric: "metric",
  numbers: "How numbers are written",
  automaticNumbers: (sample: string) => `${sample} (automatic)`,
  language: "Language",
  automaticLanguage: (name: string) => `${name} (automatic)`,
  unchecked:
    "Spanish and German are unfinished: some sentences are still in English, and no native speaker has checked them.",
  look: "Light or dark",
  device: "as the device",
  light: "light",
  dark: "dark",
  layOut: "Lay the parts out anew",
  notices: "Notices",
  noticesSaid: ": software, letters and colours that are not ours",
};
