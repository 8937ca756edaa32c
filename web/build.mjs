// Puts everything into one file that works from disk: node build.mjs CORE.wasm OUT.html
import { createHash } from "node:crypto";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { build } from "esbuild";

const [wasm, out] = process.argv.slice(2);
const here = new URL(".", import.meta.url);
const folder = (path) => {
  const at = new URL(path, here);
  const names = readdirSync(at).filter((name) => name.endsWith(".detail")).sort();
  return JSON.stringify(Object.fromEntries(names.map((name) => [name, readFileSync(new URL(name, at), "utf8")])));
};

const packed = gzipSync(readFileSync(wasm), { level: 9 }).toString("base64");
const bundled = await build({
  entryPoints: [new URL("src/main.js", here).pathname], bundle: true, minify: true, format: "esm", target: "es2022", write: false, charset: "utf8",
  define: { CORE: JSON.stringify(packed), DEMO: folder("../examples/millrace/"), STARTER: folder("../rules/start/") },
});
const script = bundled.outputFiles[0].text.replaceAll("</script", "<\\/script");
const style = readFileSync(new URL("src/style.css", here), "utf8");

// Nothing is loaded or sent: the script is known by its print, and the editor makes styles of its own.
const print = createHash("sha256").update(script).digest("base64");
const policy = `default-src 'none'; script-src 'sha256-${print}' 'wasm-unsafe-eval'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'`;
const parts = {
  POLICY: `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
  STYLE: `<style>${style}</style>`,
  SCRIPT: `<script type="module">${script}</script>`,
};
const page = readFileSync(new URL("index.html", here), "utf8").replace(/<!-- (POLICY|STYLE|SCRIPT) -->/g, (_, part) => parts[part]);
writeFileSync(out, page);

const size = gzipSync(page, { level: 9 }).length;
console.log(`${out}: ${page.length} bytes, ${size} compressed`);
if (size > 3_000_000) {
  console.error("The page is to stay under 3 MB compressed.");
  process.exit(1);
}
