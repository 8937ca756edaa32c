// The text: an editor that knows where findings are, and colors what the language has.

import { defaultKeymap, history, historyKeymap } from "@codemirror/commands";
import { HighlightStyle, StreamLanguage, bracketMatching, syntaxHighlighting } from "@codemirror/language";
import { lintKeymap, setDiagnostics } from "@codemirror/lint";
import { searchKeymap } from "@codemirror/search";
import { EditorState } from "@codemirror/state";
import { EditorView, drawSelection, highlightActiveLine, highlightActiveLineGutter, hoverTooltip, keymap, lineNumbers } from "@codemirror/view";
import { tags } from "@lezer/highlight";

const detail = StreamLanguage.define({
  startState: () => ({ first: true }),
  token(stream, state) {
    if (stream.sol()) state.first = true;
    if (stream.eatSpace()) return null;
    if (stream.match(/^#.*/)) return "comment";
    if (stream.match(/^"(\\.|[^"\\])*"?/)) return "string";
    if (stream.match(/^-?\d[\d.,/]*/)) return "number";
    if (stream.match(/^[{;}]/)) { state.first = true; return null; }
    if (stream.match(/^[\p{L}_][\p{L}\p{N}\p{M}_.-]*/u)) {
      const word = state.first;
      state.first = false;
      return word ? "keyword" : null;
    }
    stream.next();
    return null;
  },
});

const colors = HighlightStyle.define([
  { tag: tags.keyword, class: "word" },
  { tag: tags.number, class: "number" },
  { tag: tags.string, class: "said" },
  { tag: tags.comment, class: "aside" },
]);

// What is known of the word at a place: beside the pointer, or told when the keyboard asks. `about` takes a line and a column and gives
// words with their place, or nothing.
const known = (about) => hoverTooltip(async (view, at) => {
  const said = await about(...placeOf(view.state.doc, at));
  if (!said) return null;
  const create = () => {
    const dom = document.createElement("pre");
    dom.className = "about";
    dom.textContent = said.words;
    return { dom };
  };
  return { pos: said.line ? offset(view.state.doc, said.line, said.column) : at, above: true, create };
});

const asks = (about, tell) => ({
  key: "Mod-i",
  run: (view) => {
    const { doc, selection } = view.state;
    about(...placeOf(doc, selection.main.head)).then((said) => tell(said ? said.words : "Nothing is known of this word."));
    return true;
  },
});

// A file as the editor holds it; each has its own history.
export const state = (text, { changed, about, tell }) => EditorState.create({
  doc: text,
  extensions: [
    lineNumbers(), highlightActiveLineGutter(), highlightActiveLine(), drawSelection(), history(), bracketMatching(),
    detail, syntaxHighlighting(colors),
    known(about), keymap.of([asks(about, tell), ...defaultKeymap, ...historyKeymap, ...searchKeymap, ...lintKeymap]),
    EditorView.contentAttributes.of({ "aria-label": "Text of the file", "aria-describedby": "count", spellcheck: "false" }),
    EditorView.updateListener.of((update) => { if (update.docChanged || update.selectionSet) changed(update.docChanged); }),
  ],
});

export function view(parent) {
  const view = new EditorView({ parent });
  // Who scrolls by keyboard alone has to be able to stop here.
  view.scrollDOM.tabIndex = 0;
  view.scrollDOM.setAttribute("role", "group");
  view.scrollDOM.setAttribute("aria-label", "Text, to be scrolled");
  return view;
}

export const lineOf = (view) => view.state.doc.lineAt(view.state.selection.main.head).number;

// Lines and columns count from 1, columns in characters; the editor counts UTF-16 units.
export function offset(doc, line, column) {
  const there = doc.line(Math.min(Math.max(line, 1), doc.lines));
  return Math.min(there.from + [...there.text].slice(0, column - 1).join("").length, there.to);
}

export function placeOf(doc, at) {
  const line = doc.lineAt(at);
  return [line.number, [...line.text.slice(0, at - line.from)].length + 1];
}

// Edits of one text, each counted in the text as it was. Undo takes all of them back.
export function change(view, edits) {
  const { doc } = view.state;
  const changes = edits.map((edit) => ({
    from: offset(doc, edit.line, edit.column), to: offset(doc, edit.end_line, edit.end_column), insert: edit.text,
  }));
  view.dispatch({ changes, userEvent: "input.fix" });
  go(view, edits[0].line);
}

export function mark(view, findings) {
  const { doc } = view.state;
  const diagnostics = findings.map(({ finding, number }) => {
    const from = offset(doc, finding.line, finding.column);
    const to = Math.max(from, offset(doc, finding.end_line, finding.end_column));
    const severity = { error: "error", warning: "warning", note: "info" }[finding.level];
    return { from, to, severity, message: `${finding.level} ${number}: ${finding.message}` };
  });
  view.dispatch(setDiagnostics(view.state, diagnostics));
}

export function go(view, line, column = 1) {
  const anchor = offset(view.state.doc, line, column);
  view.dispatch({ selection: { anchor }, effects: EditorView.scrollIntoView(anchor, { y: "center" }) });
  view.focus();
}

// Only what differs is changed, so that the cursor stays where it is and the editor draws few lines anew.
export function replace(view, text) {
  const now = view.state.doc.toString();
  const most = Math.min(now.length, text.length);
  let start = 0;
  while (start < most && now[start] === text[start]) start += 1;
  let end = 0;
  while (end < most - start && now[now.length - 1 - end] === text[text.length - 1 - end]) end += 1;
  view.dispatch({ changes: { from: start, to: now.length - end, insert: text.slice(start, text.length - end) } });
}
