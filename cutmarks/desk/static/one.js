"use strict";
/* One tile: what is typed is asked about after a pause, and the answer is shown as text. */
(() => {
  const root = document.body.dataset.root, tab = Math.random().toString(36).slice(2);
  const at = (id) => document.getElementById(id);
  const fields = Array.from(document.querySelectorAll("[data-one]"));
  const make = (tag, words, settings = {}) => Object.assign(document.createElement(tag), { textContent: words }, settings);
  const said = () => Object.fromEntries(fields.map((one) => [one.dataset.one, one.value.trim()]));
  const ask = async (action) => {
    const answer = await fetch(`${root}do/${action}/one`, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ tab, said: said() }),
    });
    return answer.ok ? answer.json() : { fault: await answer.text() };
  };
  let number = 0, timer = 0;
  const look = async () => {
    const now = said(), mine = ++number;
    if (["tile", "joint", "what", "across", "up"].some((name) => !now[name])) return;
    let answer;
    try { answer = await ask("one"); } catch (error) { answer = { fault: "cutmarks page has ended, or is not answering: start it again." }; }
    if (mine !== number || answer.superseded) return;
    at("one-pdf").disabled = Boolean(answer.fault || answer.none);
    const lines = [];
    for (const words of [answer.fault, answer.none]) {
      if (words) { const line = make("p", words, { className: "says" }); line.dataset.level = "fault"; lines.push(line); }
    }
    for (const one of answer.holes || []) {
      lines.push(make("p", `${one.marks}.`, { className: "marks" }));
      if (one.cut) lines.push(make("p", `${one.cut[0].toUpperCase()}${one.cut.slice(1)}.`), make("p", `Check: ${one.check}.`, { className: "quiet" }));
    }
    const list = make("ul", "", { className: "findings" });
    for (const one of answer.findings || []) {
      const line = make("li", "", { className: one.level.toLowerCase() });
      line.append(make("b", one.level), ` ${one.text}`);
      list.append(line);
    }
    at("one").replaceChildren(...lines, list);
  };
  const typed = () => { clearTimeout(timer); timer = setTimeout(look, 200); };
  for (const one of fields) for (const kind of ["input", "change"]) one.addEventListener(kind, typed);
  at("o-units").addEventListener("change", () => dispatchEvent(new CustomEvent("units", { detail: at("o-units").value })));
  at("one-pdf").addEventListener("click", async () => {
    const button = at("one-pdf"), old = button.nextElementSibling;
    if (old) { URL.revokeObjectURL(old.href); old.remove(); }
    button.disabled = true;
    let answer;
    try { answer = await ask("one_pdf"); } finally { button.disabled = false; }
    if (!answer.pdf) { at("one").append(make("p", answer.fault || "", { className: "says" })); return; }
    const content = Uint8Array.from(atob(answer.pdf), (one) => one.charCodeAt(0));
    const href = URL.createObjectURL(new Blob([content], { type: "application/pdf" }));
    button.after(make("a", `Here it is: ${answer.name}`, { href, download: answer.name, className: "made" }));
  });
})();
