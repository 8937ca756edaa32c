// Findings in plain words: what is wrong, what to do, why. Text of files only ever becomes text.

import { hold } from "./patch.js";

const part = (name, words = "", attributes = {}, ...inside) => {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(words, ...inside);
  return element;
};

// Characters that steer the reader are spelled out.
const visible = (words) => String(words ?? "").replace(/[\p{Cc}\p{Cf}\u2028\u2029]/gu,
  (letter) => `<U+${letter.codePointAt(0).toString(16).toUpperCase().padStart(4, "0")}>`);

const sentence = (words) => {
  const said = visible(words);
  return said.charAt(0).toUpperCase() + said.slice(1) + (/[.!?:]$/.test(said) ? "" : ".");
};

const known = { read: "read in the source", memory: "from memory", practice: "practice of the trade" };

const basis = ({ source, clause, says, known: how }) =>
  [[source === "-" ? "" : source, clause].filter(Boolean).join(" "), says].filter(Boolean).map(visible).join(": ") + ` (${known[how]})`;

// The fixes of a finding are worked out when somebody asks: each was tried on a copy, and the copy was reviewed.
function fixes(number, mend) {
  const box = part("div", "", { class: "fixes" });
  const ask = part("button", "Show fixes", { type: "button", "aria-label": `Show fixes of finding ${number}` });
  ask.addEventListener("click", async () => {
    ask.disabled = true;
    const { cures, trouble } = await mend.find(number);
    ask.disabled = false;
    if (trouble) { box.replaceChildren(ask, part("p", trouble)); return; }
    const proved = cures.filter((cure) => cure.proved);
    const list = part("ul", "", {}, ...cures.map((cure) => {
      const button = part("button", cure.title, { type: "button", class: cure.proved ? "proved" : "" });
      button.addEventListener("click", () => mend.take(cure, number));
      return part("li", "", {}, button);
    }));
    const said = proved.length > 0 ? "Each was tried: it clears this finding and brings no other." : "No edit was proved to clear it.";
    box.replaceChildren(part("p", said), list);
    list.querySelector("button")?.focus();
  });
  box.append(ask);
  return box;
}

function one({ finding, number, here }, go, mend) {
  const level = finding.waived ? `${finding.level}, waived` : finding.level;
  const title = ` ${visible(finding.title || finding.rule)}${finding.item ? ` in ${visible(finding.item)}` : ""}`;
  const article = part("article", "", {
    class: `finding ${finding.level}${finding.waived ? " waived" : ""}`, id: `f${number}`, "aria-labelledby": `f${number}-title`, "data-rule": finding.rule,
  });
  article.append(part("h3", "", { id: `f${number}-title` }, part("span", `${level} ${number}`, { class: "level" }), title));
  article.append(part("p", sentence(finding.message)));
  if (finding.fix) article.append(part("p", "", { class: "do" }, part("strong", "Do this: "), visible(finding.fix)));
  if (finding.waived) article.append(part("p", "", {}, part("strong", "Waived: "), visible(finding.waived.because)));
  if (finding.line) {
    const place = `${visible(finding.file)}, line ${finding.line}`;
    const button = part("button", `Go to ${place}`, { type: "button" });
    button.addEventListener("click", () => go(finding));
    article.append(here || go.has(finding.file) ? button : part("p", place));
  }
  if (here && finding.line && !finding.waived) article.append(fixes(number, mend));
  const why = part("details", "", {}, part("summary", `Why: finding ${number}`));
  if (finding.trail?.length) why.append(part("h4", "Way of the water"), part("ol", "", {}, ...finding.trail.map((step) => part("li", visible(step.message)))));
  if (finding.values?.length) {
    const values = Array.isArray(finding.values) ? finding.values : Object.entries(finding.values);
    why.append(part("p", "", {}, part("strong", "Numbers: "), values.map(([name, value]) => `${visible(name)} ${visible(value)}`).join(", ")));
  }
  for (const source of finding.basis ?? []) why.append(part("p", "", {}, part("strong", "Basis: "), basis(source)));
  why.append(part("p", "", {}, part("strong", "Rule: "), part("span", visible(finding.rule), { class: "rule" })));
  article.append(why);
  return article;
}

export const counted = (count, word) => `${count} ${word}${count === 1 ? "" : "s"}`;

export function summary({ error, warning, note, waived }) {
  const open = [[error, "error"], [warning, "warning"], [note, "note"]].filter(([count]) => count > 0);
  const words = open.length > 0 ? open.map(([count, word]) => counted(count, word)).join(", ") : "Nothing was found";
  return `${words}${waived > 0 ? `; ${waived} waived` : ""}.`;
}

// What is shown stays where it did not change, so that a reader keeps the place.
export function show(list, findings, go, mend) {
  const open = new Set([...list.querySelectorAll("details[open]")].map((details) => details.closest("article").dataset.key));
  const before = new Map([...list.children].map((article) => [article.dataset.key, article]));
  hold(list, findings.map((entry) => {
    const key = JSON.stringify(entry);
    const article = before.get(key) ?? one(entry, go, mend);
    article.dataset.key = key;
    if (open.has(key)) article.querySelector("details").open = true;
    return article;
  }));
}
