// Two libraries open side by side, with the client library that editors use: each request is about the library of its file.

const assert = require("node:assert");
const { spawn } = require("node:child_process");
const { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } = require("node:fs");
const { tmpdir } = require("node:os");
const { join } = require("node:path");
const test = require("node:test");
const { pathToFileURL } = require("node:url");
const protocol = require("vscode-languageserver-protocol/node");

const detail = `include "../shared.detail"
detail A course joins W {
  piece deck   plywood  of W
  piece upper  wrap     of W  up from 0 mm
  piece lower  wrap     of W  up to 150 mm
  fasten upper with cap-staple every 400 mm up from 160 mm
}
`;
const shared = (permeance) => `include "stock.detail"
material wrap sheet "Wrap of ${permeance} perm" { holds water, air; permeance ${permeance} perm; surface polyolefin; uv-limit 120 days; thickness 0.2 mm; source "data sheet" }
assembly W wall { outside; layer wrap controls water; layer plywood 12 mm controls air; inside }
`;

/** Folders with a library each, which differ in a material and in their settings, and a third one that comes later. */
function world() {
  const root = realpathSync(mkdtempSync(join(tmpdir(), "headlap-folders-")));
  for (const [name, permeance, settings] of [["one", 50, ""], ["two", 9, "[adjust.reverse-lap]\noff = true\nbecause = \"drawn as it was built\"\n"], ["three", 30, ""]]) {
    mkdirSync(join(root, name, "walls"), { recursive: true });
    writeFileSync(join(root, name, "headlap.toml"), settings);
    writeFileSync(join(root, name, "shared.detail"), shared(permeance));
    writeFileSync(join(root, name, "walls", "a.detail"), detail);
  }
  const uri = (...path) => pathToFileURL(join(root, ...path)).toString();
  return { root, uri, folder: (name) => ({ uri: uri(name), name }) };
}

test("each folder of a workspace is a library of its own for every request", async () => {
  const { root, uri, folder } = world();
  const program = spawn(process.env.HEADLAP ?? "headlap", ["lsp"], { cwd: root, stdio: ["pipe", "pipe", "inherit"] });
  const client = protocol.createProtocolConnection(program.stdout, program.stdin);
  const told = new Map();
  client.onNotification(protocol.PublishDiagnosticsNotification.type, ({ uri, diagnostics }) => told.set(uri, diagnostics));
  client.listen();
  await client.sendRequest(protocol.InitializeRequest.type, {
    processId: process.pid, rootUri: null, capabilities: {}, workspaceFolders: [folder("one"), folder("two")],
  });
  await client.sendNotification(protocol.InitializedNotification.type, {});
  const open = (name) => client.sendNotification(protocol.DidOpenTextDocumentNotification.type, {
    textDocument: { uri: uri(name, "walls/a.detail"), languageId: "headlap", version: 1, text: detail },
  });
  const at = (name, line, character, more = {}) =>
    ({ textDocument: { uri: uri(name, "walls/a.detail") }, position: { line, character }, ...more });
  const ask = (type, params) => client.sendRequest(type, params);
  // An answer comes after all that was told before it.
  const rules = async (name) => {
    await ask(protocol.FoldingRangeRequest.type, at(name, 0, 0));
    return told.get(uri(name, "walls/a.detail"))?.map(({ code }) => code);
  };
  await open("one");
  await open("two");
  assert.deepStrictEqual(await rules("one"), ["reverse-lap"]);
  assert.deepStrictEqual(await rules("two"), [], "its settings say so");

  for (const [name, permeance, other] of [["one", 50, "two"], ["two", 9, "one"]]) {
    const hover = await ask(protocol.HoverRequest.type, at(name, 3, 17));
    assert.match(JSON.stringify(hover), new RegExp(`Wrap of ${permeance} perm`));
    const defined = [await ask(protocol.DefinitionRequest.type, at(name, 3, 17))].flat();
    assert.deepStrictEqual(defined.map((place) => place.uri), [uri(name, "shared.detail")]);
    const mentioned = await ask(protocol.ReferencesRequest.type, at(name, 3, 17, { context: { includeDeclaration: true } }));
    assert.strictEqual(mentioned.length, 4, "a definition, a layer, and two pieces");
    assert.ok(mentioned.every((place) => !place.uri.startsWith(uri(other))));
    const renamed = await ask(protocol.RenameRequest.type, at(name, 3, 17, { newName: "sheet-of-the-wall" }));
    assert.deepStrictEqual(Object.keys(renamed.changes).sort(), [uri(name, "shared.detail"), uri(name, "walls/a.detail")]);
    const offered = await ask(protocol.CompletionRequest.type, at(name, 3, 15));
    const items = (Array.isArray(offered) ? offered : offered.items).filter(({ label }) => label === "wrap");
    assert.strictEqual(items[0].documentation, `Wrap of ${permeance} perm`);
    const outline = await ask(protocol.DocumentSymbolRequest.type, at(name, 0, 0));
    assert.deepStrictEqual(outline.map((symbol) => symbol.name), ["../shared.detail", "A"]);
    const colors = await ask(protocol.SemanticTokensRequest.type, at(name, 0, 0));
    assert.ok(colors.data.length > 100);
    const laid = await ask(protocol.DocumentFormattingRequest.type, at(name, 0, 0, { options: { tabSize: 2, insertSpaces: true } }));
    assert.ok(laid === null || Array.isArray(laid));
    const whole = { start: { line: 0, character: 0 }, end: { line: 7, character: 0 } };
    const hints = await ask(protocol.InlayHintRequest.type, at(name, 0, 0, { range: whole }));
    assert.ok(hints.some(({ label }) => JSON.stringify(label).includes("150 mm")), JSON.stringify(hints));
    const drawn = await ask("headlap/drawing", at(name, 3, 5));
    assert.match(drawn.section, new RegExp(`Wrap of ${permeance} perm`));
    const diagnostics = told.get(uri(name, "walls/a.detail"));
    const cures = await ask(protocol.CodeActionRequest.type, at(name, 0, 0, { range: whole, context: { diagnostics } }));
    assert.strictEqual(cures.some(({ isPreferred }) => isPreferred), name === "one", "where there is nothing, nothing is cured");
  }
  const symbols = async () => (await ask(protocol.WorkspaceSymbolRequest.type, { query: "wrap" })).map(({ location }) => location.uri);
  assert.deepStrictEqual((await symbols()).sort(), [uri("one", "shared.detail"), uri("two", "shared.detail")]);

  // A folder comes, and another one goes.
  const change = (added, removed) => client.sendNotification(protocol.DidChangeWorkspaceFoldersNotification.type, { event: { added, removed } });
  await open("three");
  await change([folder("three")], [folder("one")]);
  assert.deepStrictEqual(await rules("three"), ["reverse-lap"]);
  assert.deepStrictEqual((await symbols()).sort().slice(-1), [uri("two", "shared.detail")]);
  assert.ok((await symbols()).includes(uri("three", "shared.detail")));

  // What is unsaved in one library reaches its own details alone.
  await client.sendNotification(protocol.DidOpenTextDocumentNotification.type, {
    textDocument: { uri: uri("two", "shared.detail"), languageId: "headlap", version: 1, text: shared(9).replace("material wrap ", "material other ") },
  });
  assert.ok((await rules("two")).includes("unknown-name"));
  assert.deepStrictEqual(await rules("three"), ["reverse-lap"]);

  await ask(protocol.ShutdownRequest.type);
  await client.sendNotification(protocol.ExitNotification.type);
  assert.strictEqual(await new Promise((resolve) => program.on("exit", resolve)), 0);
  client.dispose();
  rmSync(root, { recursive: true });
});
