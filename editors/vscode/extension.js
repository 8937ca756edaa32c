// Starts the server and shows the drawing of the detail at the cursor. Nothing is downloaded, and nothing is reported to anyone.

const vscode = require("vscode");
const { LanguageClient } = require("vscode-languageclient/node");
const { page } = require("./panel");

let client;

const settings = () => vscode.workspace.getConfiguration("headlap");

/** @param {import("vscode").ExtensionContext} context */
async function activate(context) {
  const drawing = new Drawing(() => client);
  context.subscriptions.push(
    drawing,
    vscode.commands.registerCommand("headlap.drawing", () => drawing.show()),
    vscode.commands.registerCommand("headlap.restart", restart),
    vscode.workspace.onDidChangeConfiguration((event) => event.affectsConfiguration("headlap.path") && restart()),
  );
  await start();
}

async function start() {
  const path = settings().get("path", "headlap");
  client = new LanguageClient(
    "headlap",
    "headlap",
    { command: path, args: ["lsp"] },
    {
      documentSelector: [
        { scheme: "file", language: "headlap" },
        // Settings and rules; of other files of this kind the server takes no notice.
        { scheme: "file", pattern: "**/*.toml" },
      ],
      initializationOptions: { hints: settings().get("hints", true) },
      synchronize: { configurationSection: "headlap" },
    },
  );
  try {
    await client.start();
  } catch (error) {
    const said = `headlap could not be started as "${path}" (${error.message}). Install it, or set headlap.path.`;
    // Nobody waits for the answer: it may never come.
    vscode.window.showErrorMessage(said, "Open Settings").then((choice) => {
      if (choice) vscode.commands.executeCommand("workbench.action.openSettings", "headlap.path");
    });
  }
}

/** Another client, since the path may be another one; one that never started cannot be stopped. */
async function restart() {
  await client?.dispose().catch(() => {});
  await start();
}

function deactivate() {
  return client?.stop();
}

/** A panel beside the text that follows the cursor. */
class Drawing {
  constructor(server) {
    this.server = server;
    this.listening = [
      vscode.window.onDidChangeTextEditorSelection((event) => this.follow(event.textEditor)),
      vscode.workspace.onDidChangeTextDocument(() => this.follow(vscode.window.activeTextEditor)),
    ];
  }

  show() {
    if (!this.panel) {
      this.panel = vscode.window.createWebviewPanel(
        "headlap.drawing",
        "Drawing",
        { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true },
        { enableScripts: true, localResourceRoots: [] },
      );
      this.panel.onDidDispose(() => (this.panel = undefined));
      this.panel.webview.onDidReceiveMessage((message) => this.reveal(message));
    }
    this.follow(vscode.window.activeTextEditor);
  }

  /** Waits until the cursor rests, so that a held key asks once. */
  follow(editor) {
    if (!this.panel || editor?.document.languageId !== "headlap") return;
    clearTimeout(this.waiting);
    this.waiting = setTimeout(() => this.draw(editor), 80);
  }

  async draw(editor) {
    const asked = {
      textDocument: { uri: editor.document.uri.toString() },
      position: { line: editor.selection.active.line, character: editor.selection.active.character },
    };
    try {
      this.drawn = await this.server().sendRequest("headlap/drawing", asked);
      this.uri = editor.document.uri;
      if (this.panel) {
        this.panel.title = this.drawn ? `Drawing of ${this.drawn.detail}` : "Drawing";
        this.panel.webview.html = page(this.drawn);
      }
    } catch (error) {
      if (this.panel) this.panel.webview.html = page(null, error.message);
    }
  }

  /** Goes to the statement of a piece that was clicked: by its name in the list, or by its number in the drawing. */
  async reveal({ name, number }) {
    const place = this.drawn?.statements[number] ?? this.drawn?.pieces.find((piece) => piece.name === name)?.range;
    if (!place) return;
    const { start, end } = place;
    const range = new vscode.Range(start.line, start.character, end.line, end.character);
    await vscode.window.showTextDocument(this.uri, { selection: range, viewColumn: vscode.ViewColumn.One });
  }

  dispose() {
    clearTimeout(this.waiting);
    this.listening.forEach((listener) => listener.dispose());
    this.panel?.dispose();
  }
}

module.exports = { activate, deactivate };
