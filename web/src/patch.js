// Makes an element what another one is, and leaves alone what is the same in both: the browser then lays out anew only what has changed.
export function patch(old, fresh) {
  if (old.isEqualNode(fresh)) return;
  if (old.nodeType !== Node.ELEMENT_NODE || old.nodeName !== fresh.nodeName) { old.replaceWith(fresh); return; }
  for (const { name } of [...old.attributes]) if (!fresh.hasAttribute(name)) old.removeAttribute(name);
  for (const attribute of fresh.attributes) {
    if (old.getAttribute(attribute.name) !== attribute.value) old.setAttributeNode(attribute.cloneNode());
  }
  const [before, after] = [[...old.childNodes], [...fresh.childNodes]];
  after.forEach((child, index) => { if (index < before.length) patch(before[index], child); else old.append(child); });
  before.slice(after.length).forEach((child) => child.remove());
}

// The element that some markup is.
export function element(markup) {
  const template = document.createElement("template");
  template.innerHTML = markup;
  return template.content.firstElementChild;
}

// Makes these the children of an element, and leaves alone those that are in their place.
export function hold(parent, children) {
  [...parent.childNodes].filter((child) => !children.includes(child)).forEach((child) => child.remove());
  children.forEach((child, n) => { if (parent.childNodes[n] !== child) parent.insertBefore(child, parent.childNodes[n] ?? null); });
}
