// A session with the client library that editors use, over the real program (HEADLAP, or `headlap` on the search path).

const assert = require("node:assert");
const { spawn } = require("node:child_process");
const { mkdtempSync } = require("node:fs");
const { tmpdir } = require("node:os");
const { join } = require("node:path");
const test = require("node:test");
const { pathToFileURL } = require("node:url");
const protocol = require("vscode-languageserver-protocol/node");

const wrong = `include "stock.detail"
assembly W wall { outside; layer wrap-open controls water; layer plywood 12 mm controls air; inside }
detail A course joins W {
  piece deck   plywood   of W
  piece upper  wrap-open of W  up from 0 mm
  piece lower  wrap-open of W  up to 150 mm
  fasten upper with cap-staple every 400 mm up from 160 mm
}
`;

test("a mistake is found, its cure is taken, and it is gone", async () => {
  const folder = mkdtempSync(join(tmpdir(), "headlap-"));
  const program = spawn(process.env.HEADLAP ?? "headlap", ["lsp"], { cwd: folder, stdio: ["pipe", "pipe", "inherit"] });
  const client = protocol.createProtocolConnection(program.stdout, program.stdin);
  const uri = pathToFileURL(join(folder, "a.detail")).toString();
  const waiting = [];
  client.onNotification(protocol.PublishDiagnosticsNotification.type, (params) => waiting.shift()?.(params.diagnostics));
  const next = () => new Promise((resolve) => waiting.push(resolve));
  client.listen();
  const { capabilities } = await client.sendRequest(protocol.InitializeRequest.type, {
    processId: process.pid,
    rootUri: pathToFileURL(folder).toString(),
    capabilities: {},
  });
  assert.strictEqual(capabilities.positionEncoding, "utf-16");
  await client.sendNotification(protocol.InitializedNotification.type, {});

  let told = next();
  await client.sendNotification(protocol.DidOpenTextDocumentNotification.type, {
    textDocument: { uri, languageId: "headlap", version: 1, text: wrong },
  });
  const lap = (await told).find((diagnostic) => diagnostic.code === "reverse-lap");
  assert.ok(lap, "the reversed lap is found");

  const actions = await client.sendRequest(protocol.CodeActionRequest.type, {
    textDocument: { uri },
    range: lap.range,
    context: { diagnostics: [lap] },
  });
  const cure = actions.find((action) => action.isPreferred);
  const edits = [...cure.edit.changes[uri]].sort((a, b) => b.range.start.line - a.range.start.line);
  told = next();
  await client.sendNotification(protocol.DidChangeTextDocumentNotification.type, {
    textDocument: { uri, version: 2 },
    contentChanges: edits.map((edit) => ({ range: edit.range, text: edit.newText })),
  });
  assert.deepStrictEqual(await told, []);

  const drawn = await client.sendRequest("headlap/drawing", { textDocument: { uri }, position: { line: 4, character: 0 } });
  assert.match(drawn.section, /^<svg/);
  const line = (number) => drawn.statements[number].start.line;
  const numbers = [...drawn.section.matchAll(/<g class="piece" data-n="(\d+)"/g)].map(([, number]) => Number(number));
  assert.deepStrictEqual([...new Set(numbers.map(line))].sort(), [3, 4, 5], "each piece of the drawing leads to its line");
  await client.sendRequest(protocol.ShutdownRequest.type);
  await client.sendNotification(protocol.ExitNotification.type);
  const status = await new Promise((resolve) => program.on("exit", resolve));
  assert.strictEqual(status, 0);
  client.dispose();
});
