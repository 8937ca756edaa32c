"use strict";
(() => {
  const form = document.getElementById("filter");
  const shown = document.getElementById("shown");
  const findings = [...document.querySelectorAll(".finding")];
  if (!form || findings.length === 0) return;
  form.hidden = false;
  const text = new Map(findings.map((finding) => [finding, finding.textContent.toLowerCase()]));
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
    shown.textContent = `${count} of ${findings.length} findings shown`;
  };
  form.addEventListener("input", apply);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("reset", () => setTimeout(apply));
  // A link to a finding that the filter hides shows it.
  const reveal = () => {
    const target = location.hash && document.getElementById(location.hash.slice(1));
    if (target && target.hidden) { form.reset(); setTimeout(() => target.scrollIntoView()); }
  };
  addEventListener("hashchange", reveal);
  apply();
})();
