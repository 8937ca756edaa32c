// A drawing in the page. Its markup has a line for each element, and while somebody writes, most lines differ from those before in numbers
// alone. Those are set where they stand: no markup is read, and the browser leaves alone what stays the same.

import { element, patch } from "./patch.js";

export class Drawing {
  constructor(markup) {
    // The core escapes all words of files, and the policy of the page runs nothing that stands in markup.
    this.svg = element(markup);
    this.lines = lines(this.svg, markup);
  }

  become(markup) {
    const now = markup.split("\n");
    const alike = (line, n) => line === this.lines[n].line || form(line) === form(this.lines[n].line);
    if (now.length === this.lines.length && now.every(alike)) {
      now.forEach((line, n) => { if (line !== this.lines[n].line) this.set(n, line); });
    } else {
      patch(this.svg, element(markup));
      this.lines = lines(this.svg, markup);
    }
  }

  set(n, line) {
    const { line: before, own } = this.lines[n];
    const [old, fresh] = [values(before), values(line)];
    fresh.forEach(([, name, value], at) => { if (value !== old[at][2]) own.setAttribute(name, value); });
    if (words(line) !== words(before)) own.textContent = words(line);
    this.lines[n].line = line;
  }
}

// Each line of the markup with the element that it begins.
function lines(svg, markup) {
  const elements = [svg, ...svg.querySelectorAll("*")];
  let next = 0;
  return markup.split("\n").map((line) => {
    const own = elements[next];
    next += (line.match(/<\w/g) ?? []).length;
    return { line, own };
  });
}

// What a line says besides the values that can be set. What is escaped is left to who reads markup.
const form = (line) => line.replace(/"[^"&]*"/g, "").replace(PLAIN, "$1");
const values = (line) => [...line.matchAll(/ ([\w-]+)="([^"]*)"/g)];
const words = (line) => line.match(PLAIN)?.[2];
const PLAIN = /^(<text[^>]*>)([^<&]*)/;
