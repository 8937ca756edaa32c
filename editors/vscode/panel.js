// The page in the panel: two drawings and the names of the pieces, without any address of the outside world.

const crypto = require("node:crypto");

const escape = (text) =>
  text.replace(/[&<>"']/g, (sign) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" })[sign]);

/** A whole page for what the server drew; a sentence where it drew nothing. */
function page(drawn, problem) {
  const nonce = crypto.randomBytes(16).toString("base64");
  const nothing = problem ?? "Put the cursor into a detail to see its drawing.";
  const body = drawn
    ? `<h1>${escape(drawn.detail)}</h1>
<figure><figcaption>Section</figcaption>${drawn.section ?? "<p>This detail has no section.</p>"}</figure>
<figure><figcaption>Elevation</figcaption>${drawn.elevation}</figure>
<h2>Pieces</h2><ol>${drawn.pieces.map((piece) => `<li><button data-name="${escape(piece.name)}">${escape(piece.name)}</button></li>`).join("")}</ol>`
    : `<p>${escape(nothing)}</p>`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'nonce-${nonce}'; script-src 'nonce-${nonce}'">
<title>Drawing</title>
<style nonce="${nonce}">
  body { font-family: var(--vscode-font-family, sans-serif); padding: 0.5rem; }
  figure { margin: 0 0 1rem; }
  figure svg { max-width: 100%; height: auto; }
  svg g.piece, svg g.label { cursor: pointer; }
  button { font: inherit; color: var(--vscode-textLink-foreground, #06c); background: none; border: 0; cursor: pointer; }
  button:focus-visible { outline: 2px solid var(--vscode-focusBorder, #06c); }
</style>
</head>
<body>
${body}
<script nonce="${nonce}">${script}</script>
</body>
</html>`;
}

/** Pieces of the drawing and their names lead to their lines, as the list below it does for the keyboard. A page that is made anew for the
 * same detail stays where somebody has moved it. */
const script = `
const vscode = acquireVsCodeApi();
const detail = document.querySelector("h1")?.textContent;
const last = vscode.getState();
if (detail && last?.detail === detail) scrollTo(last.x, last.y);
addEventListener("scroll", () => vscode.setState({ detail, x: scrollX, y: scrollY }));
document.addEventListener("click", (event) => {
  const button = event.target.closest("button");
  if (button) return vscode.postMessage({ name: button.dataset.name });
  const part = event.target.closest("svg g.piece, svg g.label");
  if (part) vscode.postMessage({ number: Number(part.dataset.n) });
});
`;

module.exports = { page, script };
