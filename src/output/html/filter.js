"use strict";
(() => {
  // Drawings of clean details are kept as text, and built when they come into view, are opened, looked for or printed.
  const kept = new Map([...document.querySelectorAll("article noscript")].map((part) => [part.closest("article").id, part]));
  const build = (id) => {
    const part = kept.get(id);
    if (!part) return;
    kept.delete(id);
    part.insertAdjacentHTML("beforebegin", part.textContent);
    part.remove();
  };
  const buildAll = () => [...kept.keys()].forEach(build);
  const comes = new IntersectionObserver((cards) => cards.filter((card) => card.isIntersecting).forEach(({ target }) => {
    build(target.hash.slice(1));
    comes.unobserve(target);
  }), { rootMargin: "50%" });
  document.querySelectorAll(".contact a").forEach((card) => { if (kept.has(card.hash.slice(1))) comes.observe(card); });
  document.addEventListener("toggle", ({ target }) => { if (target.open && target.closest("article")) build(target.closest("article").id); }, true);
  addEventListener("keydown", (key) => { if ((key.ctrlKey || key.metaKey) && key.key.toLowerCase() === "f") buildAll(); });
  const folded = [...document.querySelectorAll("details")];
  // What is folded is shown on paper, and a link into it opens it.
  let shut = [];
  matchMedia("print").addEventListener("change", ({ matches }) => { if (matches) buildAll(); });
  addEventListener("beforeprint", () => { buildAll(); shut = folded.filter((part) => !part.open); shut.forEach((part) => { part.open = true; }); });
  addEventListener("afterprint", () => shut.forEach((part) => { part.open = false; }));
  const form = document.getElementById("filter");
  const shown = document.getElementById("shown");
  const none = document.getElementById("none");
  const findings = [...document.querySelectorAll(".finding")];
  const apply = () => {
    const levels = new Set([...form.querySelectorAll("input[name=level]:checked")].map((box) => box.value));
    const topic = form.elements.topic.value;
    const words = form.elements.words.value.toLowerCase().split(/\s+/).filter(Boolean);
    let count = 0;
    for (const finding of findings) {
      const fits = levels.has(finding.dataset.level) && (topic === "" || finding.dataset.topic === topic)
        && words.every((word) => text(finding).includes(word));
      finding.hidden = !fits;
      if (fits) count += 1;
    }
    none.hidden = count > 0;
    shown.textContent = `${count} of ${findings.length} findings shown`;
  };
  const texts = new Map();
  const text = (finding) => {
    if (!texts.has(finding)) texts.set(finding, finding.textContent.toLowerCase());
    return texts.get(finding);
  };
  if (form && findings.length > 0) {
    form.hidden = false;
    form.addEventListener("input", apply);
    form.addEventListener("submit", (event) => event.preventDefault());
    form.addEventListener("reset", () => setTimeout(apply));
    none.querySelector("button").addEventListener("click", () => { form.reset(); form.querySelector("input").focus(); });
    apply();
  }
  // A link to a finding that the filter hides shows it.
  const reveal = () => {
    const target = location.hash && document.getElementById(location.hash.slice(1));
    if (!target) return;
    build(target.id);
    target.querySelectorAll("details").forEach((part) => { if (target.matches(".clean")) part.open = true; });
    if (target.hidden) { form.reset(); setTimeout(() => target.scrollIntoView()); }
  };
  addEventListener("hashchange", reveal);
  reveal();
})();
