// The extension with an editor and a server that are told what to do.

const assert = require("node:assert");
const Module = require("node:module");
const test = require("node:test");

const world = { path: "nowhere", started: [], disposed: 0, told: [], commands: {}, opened: [] };
const nothing = () => ({ dispose() {} });
const vscode = {
  workspace: {
    getConfiguration: () => ({ get: (name, otherwise) => (name === "path" ? world.path : otherwise) }),
    onDidChangeTextDocument: nothing,
    onDidChangeConfiguration: (listener) => ((world.configured = listener), nothing()),
  },
  window: {
    onDidChangeTextEditorSelection: nothing,
    showErrorMessage: async (said, ...choices) => (world.told.push(said), choices[0]),
  },
  commands: {
    registerCommand: (name, run) => ((world.commands[name] = run), nothing()),
    executeCommand: (...command) => world.opened.push(command),
  },
};
class LanguageClient {
  constructor(_id, _name, { command }) {
    this.command = command;
  }
  async start() {
    if (this.command === "nowhere") throw new Error("not found");
    world.started.push(this.command);
  }
  async dispose() {
    if (this.command === "nowhere") throw new Error("it never ran");
    world.disposed += 1;
  }
}
const load = Module._load;
Module._load = (name, ...more) => {
  if (name === "vscode") return vscode;
  return name === "vscode-languageclient/node" ? { LanguageClient } : load(name, ...more);
};
const { activate } = require("./extension");

test("a program that is not there is named, and one that is set afterwards is started", async () => {
  await activate({ subscriptions: [] });
  assert.match(world.told[0], /could not be started as "nowhere" \(not found\)/);
  await new Promise(setImmediate);
  assert.deepStrictEqual(world.opened, [["workbench.action.openSettings", "headlap.path"]]);

  world.path = "/opt/headlap";
  await world.commands["headlap.restart"]();
  assert.deepStrictEqual(world.started, ["/opt/headlap"]);

  world.path = "/opt/newer";
  await world.configured({ affectsConfiguration: (name) => name === "headlap.hints" });
  assert.deepStrictEqual(world.started, ["/opt/headlap"], "other settings start nothing anew");
  await world.configured({ affectsConfiguration: (name) => name === "headlap.path" });
  assert.deepStrictEqual(world.started, ["/opt/headlap", "/opt/newer"]);
  assert.strictEqual(world.disposed, 1);
});
