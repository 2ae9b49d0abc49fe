/** The frame of a sheet to print: one HTML page that runs nothing and asks nothing from outside. */
import { escapeMarkup } from "./markup.ts";

/**
 * @param title of the page, not yet escaped
 * @param body markup, what came from the user escaped in it
 */
export function sheetPage(title: string, style: string, body: string): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${escapeMarkup(title)}</title>
<style>${style}</style>
</head>
<body>
<main>
${body}
</main>
</body>
</html>
`;
}
