"use strict";
(() => {
  const folded = [...document.querySelectorAll("details")];
  // What is folded is shown on paper, and a link into it opens it.
  let shut = [];
  addEventListener("beforeprint", () => { shut = folded.filter((part) => !part.open); shut.forEach((part) => { part.open = true; }); });
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
        && words.every((word) => text.get(finding).includes(word));
      finding.hidden = !fits;
      if (fits) count += 1;
    }
    none.hidden = count > 0;
    shown.textContent = `${count} of ${findings.length} findings shown`;
  };
  const text = new Map(findings.map((finding) => [finding, finding.textContent.toLowerCase()]));
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
    target.querySelectorAll("details").forEach((part) => { if (target.matches(".clean")) part.open = true; });
    if (target.hidden) { form.reset(); setTimeout(() => target.scrollIntoView()); }
  };
  addEventListener("hashchange", reveal);
  reveal();
})();
