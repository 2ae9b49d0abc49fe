/** Build step of the report: script and style go into the HTML, so that one file opens by double click. */
import { createHash } from "node:crypto";
import type { Plugin } from "vite";

export function oneFile(): Plugin {
  return {
    name: "one-file",
    enforce: "post",
    generateBundle(_options, bundle) {
      const page = Object.values(bundle).find((item) => item.fileName.endsWith(".html"));
      if (page?.type !== "asset") throw new Error("the report build made no HTML file");
      let html = String(page.source);
      const [scripts, styles]: [string[], string[]] = [[], []];
      for (const item of Object.values(bundle)) {
        if (item === page) continue;
        if (item.type === "chunk") {
          html = replaced(
            html,
            new RegExp(`<script[^>]*src="\\./${escaped(item.fileName)}"[^>]*></script>`),
            "",
          );
          const script = inScript(item.code);
          scripts.push(hashSource(script));
          html = html.replace("</body>", () => `<script type="module">${script}</script></body>`);
        } else if (item.fileName.endsWith(".css")) {
          const text = String(item.source).replaceAll("</style", "<\\/style");
          styles.push(hashSource(text));
          const style = `<style>${text}</style>`;
          html = replaced(html, new RegExp(`<link[^>]*href="\\./${escaped(item.fileName)}"[^>]*>`), style);
        } else {
          throw new Error(`the report would leave ${item.fileName} outside its one file`);
        }
        delete bundle[item.fileName];
      }
      const policy = `<meta http-equiv="Content-Security-Policy" content="${policyOf(scripts, styles)}" />`;
      page.source = replaced(html, /<meta charset="utf-8" ?\/?>/i, `<meta charset="utf-8" />${policy}`);
    },
  };
}

/** The report runs its own script and style and nothing else, asks no machine, and sends no form. */
function policyOf(scripts: readonly string[], styles: readonly string[]): string {
  return [
    "default-src 'none'",
    `script-src ${scripts.join(" ")}`,
    `style-src ${styles.join(" ")}`,
    // The map library's worker, and the pictures and letters it makes.
    "worker-src data: blob:",
    "img-src data: blob:",
    "font-src data:",
    "connect-src data: blob:",
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
}

function hashSource(text: string): string {
  return `'sha256-${createHash("sha256").update(text).digest("base64")}'`;
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
