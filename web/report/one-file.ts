/** Build step of the report: script and style go into the HTML, so that one file opens by double click. */
import type { Plugin } from "vite";

export function oneFile(): Plugin {
  return {
    name: "one-file",
    enforce: "post",
    generateBundle(_options, bundle) {
      const page = Object.values(bundle).find((item) => item.fileName.endsWith(".html"));
      if (page?.type !== "asset") throw new Error("the report build made no HTML file");
      let html = String(page.source);
      for (const item of Object.values(bundle)) {
        if (item === page) continue;
        if (item.type === "chunk") {
          html = replaced(
            html,
            new RegExp(`<script[^>]*src="\\./${escaped(item.fileName)}"[^>]*></script>`),
            "",
          );
          html = html.replace(
            "</body>",
            () => `<script type="module">${inScript(item.code)}</script></body>`,
          );
        } else if (item.fileName.endsWith(".css")) {
          const style = `<style>${String(item.source).replaceAll("</style", "<\\/style")}</style>`;
          html = replaced(html, new RegExp(`<link[^>]*href="\\./${escaped(item.fileName)}"[^>]*>`), style);
        } else {
          throw new Error(`the report would leave ${item.fileName} outside its one file`);
        }
        delete bundle[item.fileName];
      }
      page.source = html;
    },
  };
}

/** A script's text may not end the script it stands in, nor open a comment. */
function inScript(code: string): string {
  return code.replaceAll("</script", "<\\/script").replaceAll("<!--", "<\\!--");
}

function replaced(html: string, pattern: RegExp, by: string): string {
  if (!pattern.test(html)) throw new Error(`the report's HTML does not hold ${pattern}`);
  return html.replace(pattern, () => by);
}

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
}
